import { may } from '@/lib/access/permissions';
import { modelInText } from '@/lib/run/modelWords';
import type { Actor } from '@/lib/run/roles';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import { type WorldKey, worldKey } from '@/lib/run/world';
import type { Queryable } from '@/lib/store/database';
import { levelLabels } from '@/lib/store/models';
import { backedBy, type StoredRequest } from '@/lib/store/testRequests';
import { type AskedOf, levelsWords } from '@/lib/study/askable';
import type { RequestState } from '@/lib/study/requestState';
import type { StudyState } from '@/lib/study/studyState';

/** A request as lists show it. */
export interface RequestRow {
  id: string;
  question: string;
  state: RequestState;
  world: WorldKey;
  model: string;
  modelId: string;
  classKey: string;
  classLabel: string;
  /** What is to be held against what. */
  words: string;
  voices: number;
  by: { displayName: string; slug: string };
  askedAt: Date;
  studies: { slug: string; question: string; state: StudyState }[];
  mine: { backs: boolean; mayBack: boolean; mayTake: boolean; mayClose: boolean; mayHide: boolean };
}

export function askedOf(request: StoredRequest): AskedOf {
  const { modelId, cruiseClassKey, factor, fromKey, toKey, baselineId, setupId } = request;
  const setups = baselineId === null || setupId === null ? null : { baselineId, setupId };
  return { modelId, cruiseClassKey, factor, fromKey, toKey, setups };
}

/** Rows with the names of today, and what whoever asks may do with each. */
export async function rowsFor(
  db: Queryable,
  actor: Actor | undefined,
  requests: readonly StoredRequest[],
): Promise<RequestRow[]> {
  const [labels, backed] = await Promise.all([
    levelLabels(
      db,
      requests.map(({ modelId }) => modelId),
    ),
    actor === undefined
      ? new Set<string>()
      : backedBy(
          db,
          actor.accountId,
          requests.map(({ id }) => id),
        ),
  ]);
  return requests.map((request): RequestRow => {
    const { factor, fromKey, toKey, baseline, setup } = request;
    const labelOf = (key: string) => labels.get(`${request.modelId} ${factor} ${key}`) ?? key;
    const world = worldKey(request.world);
    const isListed = request.state === 'open' || request.state === 'taken';
    return {
      id: request.id,
      question: request.question,
      state: request.state,
      world,
      model: modelInText(request.model),
      modelId: request.modelId,
      classKey: request.cruiseClassKey,
      classLabel: request.cruiseClass.label,
      words:
        baseline === null || setup === null
          ? levelsWords(factor, labelOf(fromKey), labelOf(toKey))
          : `${setupAtStart(setup.title)} against ${setupInText(baseline.title)}`,
      voices: request._count.backings,
      by: request.askedBy,
      askedAt: request.askedAt,
      studies: request.studies,
      mine: {
        backs: backed.has(request.id),
        mayBack: isListed && may(actor, 'askForTest', undefined, world) && actor?.suspension === undefined,
        mayTake: request.state === 'open' && may(actor, 'planStudy', undefined, world),
        mayClose: request.state === 'open' && may(actor, 'closeRequest', request.askedById, world),
        mayHide: request.hiddenAt === null && may(actor, 'hideRequest', undefined, world),
      },
    };
  });
}
