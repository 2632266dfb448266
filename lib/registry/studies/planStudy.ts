import { randomInt } from 'node:crypto';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { type CruiseClass, isWithinPostedLimit } from '@/lib/run/cruiseClass';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { freeSlug } from '@/lib/run/slug';
import { joinedWorld, RECORD, worldKey } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import {
  insertStudy,
  insertVersion,
  isStudySlugTaken,
  lockStudy,
  replaceDraftPlan,
  studyById,
} from '@/lib/store/studies';
import { carToPlan, loopToPlan } from '@/lib/store/studyBasis';
import { type PlanningBasis, planFrom, planned } from '@/lib/study/makePlan';
import type { StudyPlan } from '@/lib/study/plan';
import { type PlanAsked, parsePlanForm } from '@/lib/study/planForm';
import type { Registry } from '../registry';
import { requestAnswered } from '../requests/planOfRequest';
import { planningBasis } from './planningBasis';
import { tellOfStudy } from './tellOfStudy';

const question = nameField({
  least: 10,
  most: 140,
  tooShort:
    'The question is too short. | It is what readers see in the list. | Ask it in a sentence, for example “Does the low ride height use less?”',
  tooLong: 'The question is too long. | It stands in headings. | Use at most 140 characters.',
});
const form = z.record(z.string().max(80), z.string().max(400));

const newStudySchema = z.object({
  carId: z.uuid(),
  loopId: z.uuid(),
  cruiseClassKey: z.string().max(40),
  question,
  form,
  /** What readers asked for that it is planned from. */
  requestId: z.uuid().optional(),
  /** Decides the orders; drawn where none is given. */
  seed: z.int32().min(0).optional(),
});

/** Seeds that every generator here takes whole. */
const MOST_SEED = 2 ** 31 - 1;

/** Plans a study of a car of one's own: a draft, which everybody may read. */
export async function planStudy(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ studyId: string; slug: string }> {
  authorise(actor, 'planStudy');
  const asked = parseInput(newStudySchema, input);
  const [car, loop] = await Promise.all([
    carToPlan(registry.db, asked.carId),
    loopToPlan(registry.db, asked.loopId),
  ]);
  if (
    car === null ||
    car.ownerId !== actor.accountId ||
    [car.retiredAt, car.hiddenAt, car.mergedIntoId].some((one) => one !== null)
  )
    throw new NotFound('This car is not one of yours.');
  if (loop === null) throw new NotFound('This loop does not exist.');
  const world = joinedWorld([
    registry.world,
    actor.world ?? RECORD,
    ...[car, car.model, loop].map((of) => worldKey(of.world)),
  ]);
  const answered = { ...parsePlanForm(asked.form), question: asked.question };
  const basis = await planningBasis(registry.db, {
    world,
    modelId: car.model.id,
    cruiseClassKey: asked.cruiseClassKey,
    loopLengthM: loop.lengthM,
    setupIds: [answered.baselineId, ...answered.otherIds].filter(isId),
    capacity: car,
  });
  if (basis === undefined) throw new NotFound('This cruise class does not exist.');
  requireLimit(basis.cruiseClass, loop.postedLimitMps);
  const plan = planOf(answered, basis, {
    cruiseClassKey: asked.cruiseClassKey,
    loopId: loop.id,
    seed: asked.seed ?? randomInt(MOST_SEED),
  });
  const requestId = await requestAnswered(registry.db, asked.requestId, {
    world,
    modelId: car.model.id,
    cruiseClassKey: asked.cruiseClassKey,
    factors: plan.contrasts.map(({ factor }) => factor),
  });
  const at = registry.now();
  try {
    return await registry.db.$transaction(async (tx) => {
      const slug = await freeSlug(plan.question, (candidate) => isStudySlugTaken(tx, candidate));
      const { id } = await insertStudy(
        tx,
        {
          slug,
          world,
          question: plan.question,
          ownerId: actor.accountId,
          modelId: car.model.id,
          loopId: loop.id,
          cruiseClassKey: asked.cruiseClassKey,
          createdAt: at,
          requestId,
        },
        plan,
      );
      await told(tx, 'study.plan', actor, id, { question: plan.question, seed: plan.seed }, at);
      return { studyId: id, slug };
    });
  } catch (error) {
    if (isUniqueViolation(error))
      throw new Conflict('A study of this name was planned a moment ago. Send it again.');
    throw error;
  }
}

const replanSchema = z.object({
  studyId: z.uuid(),
  /** The version that was read. */
  version: z.int32().min(1),
  question,
  form,
  reason: z.string().trim().max(1000).default(''),
});

/**
 * Another plan. A draft's is replaced; one that was begun gets a further version with its reason, of the same question,
 * setups, loop and class: anything else would be another study. The seed stays, so that nobody can draw until an order
 * pleases.
 */
export async function replanStudy(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ slug: string }> {
  authorise(actor, 'planStudy');
  const asked = parseInput(replanSchema, input);
  const study = await studyById(registry.db, asked.studyId);
  if (study === null) throw new NotFound('This study does not exist.');
  const world = worldKey(study.world);
  authorise(actor, 'changeStudy', study.ownerId, world);
  const { plan: before } = study;
  if (before === undefined) throw new Conflict('The plan of this study can no longer be read.');
  if (study.state !== 'draft' && study.state !== 'running')
    throw new Conflict('This study is over: its plan stays as it is.');
  const isFixed = study.state === 'running';
  if (isFixed && asked.reason.length < 10) {
    throw new InvalidInput([
      {
        path: 'reason',
        what: 'The reason is too short.',
        why: 'The plan was fixed when it began, and readers see why it is changed.',
        fix: 'Say what made you change it.',
      },
    ]);
  }
  const loop = await loopToPlan(registry.db, study.loopId);
  const typed = parsePlanForm(asked.form);
  const answered: PlanAsked = isFixed
    ? { ...typed, question: before.question, baselineId: before.baselineId, otherIds: before.setupIds }
    : { ...typed, question: asked.question };
  const basis = await planningBasis(registry.db, {
    world,
    modelId: study.modelId,
    cruiseClassKey: study.cruiseClassKey,
    loopLengthM: loop?.lengthM ?? 0,
    setupIds: [answered.baselineId, ...answered.otherIds].filter(isId),
    capacity: null,
  });
  if (basis === undefined || loop === null) throw new NotFound('This study’s loop or class is gone.');
  const plan = planOf(answered, basis, {
    cruiseClassKey: study.cruiseClassKey,
    loopId: study.loopId,
    seed: before.seed,
  });
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    await lockStudy(tx, study.id);
    const now = await studyById(tx, study.id);
    if (now?.state !== study.state || now.version !== asked.version)
      throw new Conflict('This plan was changed, or the study begun, a moment ago. Reload to see it.');
    if (isFixed) {
      await insertVersion(tx, {
        studyId: study.id,
        number: asked.version + 1,
        plan,
        reason: asked.reason,
        madeById: actor.accountId,
        madeAt: at,
      });
      const news = { event: 'replan', version: asked.version + 1, reason: asked.reason } as const;
      await tellOfStudy(tx, study.id, news, { accountId: actor.accountId, at });
    } else if (!(await replaceDraftPlan(tx, study.id, plan, at))) {
      throw new Conflict('This study was begun a moment ago. Reload to see it.');
    }
    const details: Record<string, string | number> = isFixed
      ? { version: asked.version + 1, reason: asked.reason }
      : {};
    await told(tx, 'study.replan', actor, study.id, details, at);
  });
  return { slug: study.slug };
}

function planOf(
  asked: PlanAsked,
  basis: PlanningBasis,
  of: { cruiseClassKey: string; loopId: string; seed: number },
): StudyPlan {
  const found = planned(asked, basis, of.seed);
  if (!found.ok) {
    const { ok: _ok, ...issue } = found;
    throw new InvalidInput([issue]);
  }
  return planFrom(asked, found, { ...of, basis });
}

function requireLimit(cruiseClass: CruiseClass, postedLimitMps: number): void {
  if (isWithinPostedLimit(cruiseClass, postedLimitMps)) return;
  throw new InvalidInput([
    {
      path: 'cruiseClassKey',
      what: `${cruiseClass.label} is above the posted limit of this loop.`,
      why: 'Posted limits and local law come first; such runs are not accepted.',
      fix: 'Choose a class at or below the limit, or another loop.',
    },
  ]);
}

function isId(text: string): boolean {
  return z.uuid().safeParse(text).success;
}

async function told(
  tx: Queryable,
  action: string,
  actor: Actor,
  studyId: string,
  details: Record<string, string | number>,
  at: Date,
): Promise<void> {
  await appendAudit(tx, {
    at,
    actorId: actor.accountId,
    action,
    subjectKind: 'study',
    subjectId: studyId,
    details,
  });
}
