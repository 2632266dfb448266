import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import type { WorldKey } from '@/lib/run/world';
import type { Queryable } from '@/lib/store/database';
import { modelToPlan } from '@/lib/store/studyBasis';
import { requestById, type StoredRequest } from '@/lib/store/testRequests';
import { setupsFor } from '@/lib/study/askable';
import { setupsOfModel } from '../studies/setupsOfModel';
import { askedOf } from './requestRow';

/** What a new plan is begun with. */
export interface PlanBegunWith {
  baselineId?: string | undefined;
  setupId?: string | undefined;
  question?: string | undefined;
}

interface PlannedOf {
  world: WorldKey;
  modelId: string;
  cruiseClassKey: string;
}

/** The class and the model that a request is of, for the first step of a plan; undefined where there is none to plan. */
export async function subjectOfRequest(
  db: Queryable,
  requestId: string | undefined,
): Promise<{ modelId: string; cruiseClassKey: string; question: string } | undefined> {
  const request = requestId === undefined ? null : await requestById(db, requestId);
  return request === null || !isToPlan(request) ? undefined : request;
}

/** What the plan of a request begins with; undefined where there is none of this car and class that is to be planned. */
export async function planOfRequest(
  db: Queryable,
  requestId: string | undefined,
  of: PlannedOf,
): Promise<(PlanBegunWith & { id: string; question: string }) | undefined> {
  const request = requestId === undefined ? null : await requestById(db, requestId);
  if (request === null || !isToPlan(request) || !isOf(request, of)) return undefined;
  const model = await modelToPlan(db, of.modelId);
  const named = [request.baselineId, request.setupId].flatMap((id) => id ?? []);
  const studied = model === null ? [] : await setupsOfModel(db, model, named);
  return { ...setupsFor(askedOf(request), studied), id: request.id, question: request.question };
}

/** The id of the request that a new study answers, null where it names none; an error where it would not answer it. */
export async function requestAnswered(
  db: Queryable,
  requestId: string | undefined,
  of: PlannedOf & { factors: readonly string[] },
): Promise<string | null> {
  if (requestId === undefined) return null;
  const request = await requestById(db, requestId);
  if (request === null || request.hiddenAt !== null) throw new NotFound('This request does not exist.');
  if (!isToPlan(request)) throw new Conflict('This request is over: plan the study without it.');
  if (!isOf(request, of)) throw new Conflict('The request is of another car, class or world.');
  if (!of.factors.includes(request.factor)) {
    throw new InvalidInput([
      {
        path: 'setups',
        what: 'These setups do not move what was asked for.',
        why: 'Those who asked are told that their question is being driven.',
        fix: 'Choose setups that differ in what the request names.',
      },
    ]);
  }
  return request.id;
}

function isToPlan({ state, hiddenAt }: StoredRequest): boolean {
  return hiddenAt === null && (state === 'open' || state === 'taken');
}

function isOf(request: StoredRequest, of: PlannedOf): boolean {
  return (
    request.modelId === of.modelId &&
    request.cruiseClassKey === of.cruiseClassKey &&
    request.world === of.world
  );
}
