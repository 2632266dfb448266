import { authorise } from '@/lib/access/authorise';
import { CRUISE_CLASSES, type CruiseClass } from '@/lib/run/cruiseClass';
import { NotFound } from '@/lib/run/errors';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { joinedWorld, RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { studyBySlug } from '@/lib/store/studies';
import { carToPlan, loopToPlan, modelToPlan } from '@/lib/store/studyBasis';
import type { PlanningBasis } from '@/lib/study/makePlan';
import { setupsOfPlan } from '@/lib/study/plan';
import { formOfPlan, PLAN_DEFAULTS, type PlanForm, setupFieldName } from '@/lib/study/planForm';
import type { Registry } from '../registry';
import { type PlanBegunWith, planOfRequest, subjectOfRequest } from '../requests/planOfRequest';
import { type FormSubjects, formSubjects } from '../runs/formSubjects';
import { planningBasis } from './planningBasis';

/** What the form of a plan needs: what it is reckoned from, and what stands in it. */
export interface PlanFormView {
  basis: PlanningBasis;
  model: string;
  loop: string;
  cruiseClass: Pick<CruiseClass, 'key' | 'label'>;
  world: WorldKey;
  form: PlanForm;
  /** For the what-if only: what is kept is drawn when the plan is made. */
  seed: number;
  /** What readers asked for that it is begun from. */
  request: { id: string; question: string } | undefined;
  /** Set where a plan that stands is changed. */
  study: { id: string; slug: string; version: number; isFixed: boolean } | undefined;
}

/** What a study can be of: the first step, where a car, a loop and a class are chosen. */
export interface PlanSubjects extends Pick<FormSubjects, 'cars' | 'loops' | 'hasMoreLoops'> {
  classes: readonly { key: string; label: string }[];
  /** What readers ask for that a plan is to be begun from; then only cars of its model. */
  request: { cruiseClassKey: string; question: string } | undefined;
}

export async function planSubjects(
  registry: Registry,
  actor: Actor | undefined,
  requestId?: string,
): Promise<PlanSubjects> {
  authorise(actor, 'planStudy');
  const [{ cars, loops, hasMoreLoops }, request] = await Promise.all([
    formSubjects(registry, actor.accountId),
    subjectOfRequest(registry.db, requestId),
  ]);
  return {
    cars: request === undefined ? cars : cars.filter(({ modelId }) => modelId === request.modelId),
    loops,
    hasMoreLoops,
    classes: CRUISE_CLASSES.map(({ key, label }) => ({ key, label })),
    request,
  };
}

function begunForm({ baselineId, setupId, question }: PlanBegunWith): PlanForm {
  return {
    ...PLAN_DEFAULTS,
    ...(question === undefined ? {} : { question }),
    ...(baselineId === undefined ? {} : { baselineId }),
    ...(setupId === undefined ? {} : { [setupFieldName(setupId)]: 'yes' }),
  };
}

/** The form of a new plan. */
export async function newPlanForm(
  registry: Registry,
  actor: Actor | undefined,
  of: {
    carId: string;
    loopId: string;
    cruiseClassKey: string;
    begunWith?: PlanBegunWith;
    requestId?: string | undefined;
  },
): Promise<PlanFormView> {
  authorise(actor, 'planStudy');
  const [car, loop] = await Promise.all([
    carToPlan(registry.db, of.carId),
    loopToPlan(registry.db, of.loopId),
  ]);
  if (car === null || loop === null || car.ownerId !== actor.accountId)
    throw new NotFound('This car or loop does not exist.');
  const world = joinedWorld([
    registry.world,
    actor.world ?? RECORD,
    ...[car, car.model, loop].map((one) => worldKey(one.world)),
  ]);
  const request = await planOfRequest(registry.db, of.requestId, {
    world,
    modelId: car.model.id,
    cruiseClassKey: of.cruiseClassKey,
  });
  const begunWith = request ?? of.begunWith ?? {};
  const view = await planFormOf(registry, {
    world,
    modelId: car.model.id,
    cruiseClassKey: of.cruiseClassKey,
    loop,
    capacity: car,
    form: begunForm(begunWith),
    setupIds: [begunWith.baselineId, begunWith.setupId].flatMap((id) => id ?? []),
    seed: 1,
  });
  return { ...view, request: request && { id: request.id, question: request.question } };
}

/** The form of a plan that stands. */
export async function changedPlanForm(
  registry: Registry,
  actor: Actor | undefined,
  slug: string,
): Promise<PlanFormView> {
  authorise(actor, 'planStudy');
  const study = await studyBySlug(registry.db, slug);
  const newest = study?.versions[0];
  if (study === null || newest?.plan === undefined) throw new NotFound('This study does not exist.');
  const world = worldKey(study.world);
  authorise(actor, 'changeStudy', study.ownerId, world);
  const loop = await loopToPlan(registry.db, study.loop.id);
  if (loop === null) throw new NotFound('This study’s loop does not exist.');
  const view = await planFormOf(registry, {
    world,
    modelId: study.modelId,
    cruiseClassKey: study.cruiseClass.key,
    loop,
    capacity: null,
    form: formOfPlan(newest.plan),
    setupIds: setupsOfPlan(newest.plan),
    seed: newest.plan.seed,
  });
  return {
    ...view,
    study: { id: study.id, slug, version: newest.number, isFixed: study.state !== 'draft' },
  };
}

async function planFormOf(
  registry: Registry,
  of: {
    world: WorldKey;
    modelId: string;
    cruiseClassKey: string;
    loop: { name: string; lengthM: number };
    capacity: { usableCapacityWh: number | null; usableCapacityUWh: number | null } | null;
    form: PlanForm;
    setupIds: readonly string[];
    seed: number;
  },
): Promise<PlanFormView> {
  const [found, model] = await Promise.all([
    planningBasis(registry.db, { ...of, loopLengthM: of.loop.lengthM }),
    modelToPlan(registry.db, of.modelId),
  ]);
  if (found === undefined || model === null) throw new NotFound('This cruise class does not exist.');
  const { cruiseClass, ...basis } = found;
  const delivered = basis.setups.find(({ levels }) => levels.every(({ isAsDelivered }) => isAsDelivered));
  return {
    basis,
    model: modelInText(model),
    loop: of.loop.name,
    cruiseClass: { key: cruiseClass.key, label: cruiseClass.label },
    world: of.world,
    form: { baselineId: delivered?.id ?? '', ...of.form },
    seed: of.seed,
    request: undefined,
    study: undefined,
  };
}
