import type { RowVerdict } from '@/lib/capture/sheet/importReport';
import type { ImportedRun } from '@/lib/capture/sheet/parseImportRow';
import type { FindingResult } from '@/lib/protocol/evaluate';
import { InvalidInput } from '@/lib/run/errors';
import type { Actor } from '@/lib/run/roles';
import type { RunRecord } from '@/lib/run/runRecord';
import { joinedWorld, RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { onCurrentThings } from '@/lib/store/merging';
import { type ReductionSubjects, reductionSubjects } from '@/lib/store/reductionSubjects';
import { methodInEffect } from '../method/methodInEffect';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';
import { reduceAndJudge } from '../runs/reduceAndJudge';
import { requireSubjects } from '../runs/requireSubjects';

/** So many rows are judged at once: in the background for a sheet, and on a page for the rows that it shows. */
export const MOST_JUDGED = 100;

/** The id of no run: what a row is held against leaves none out for it. */
const NO_RUN = '00000000-0000-0000-0000-000000000000';

export interface RowToJudge {
  rowNumber: number;
  value: ImportedRun;
}

/**
 * Result and findings of rows as if they were sent now, by what a submission does; nothing is kept. A row is held
 * against runs that are there, not against the other rows of its sheet. One whose car, setup or loop would be refused
 * has no verdict: making it says why.
 */
export async function judgeRows(
  registry: Registry,
  actor: Actor,
  rows: readonly RowToJudge[],
): Promise<Map<number, RowVerdict>> {
  const protocol = await activeProtocol(registry);
  const subjectsOf = remembered((ids: SubjectIds) => reductionSubjects(registry.db, ids));
  const methodOf = remembered((world: WorldKey) => methodInEffect(registry.db, world));
  const idsNow = remembered((ids: SubjectIds) => onCurrentThings(registry.db, ids));
  const verdicts = new Map<number, RowVerdict>();
  for (const { rowNumber, value } of rows.slice(0, MOST_JUDGED)) {
    // As at submission: with and on what its own were merged into.
    const ids = await idsNow(idsOf(value.record));
    const record = { ...value.record, ...ids };
    const found = await subjectsOf(ids);
    const subjects = subjectsIfTaken(found, record, actor);
    if (subjects === undefined) continue;
    const world = joinedWorld([
      actor.world ?? RECORD,
      ...[subjects.car, subjects.setup, subjects.loop].map((of) => worldKey(of.world)),
    ]);
    const { normalised, findings } = await reduceAndJudge(
      registry,
      {
        runId: NO_RUN,
        testerId: actor.accountId,
        world,
        record,
        subjects,
        recording: undefined,
        evidence: [],
        sentAt: registry.now(),
      },
      { method: await methodOf(world), protocol },
    );
    verdicts.set(rowNumber, {
      whPerKm: normalised.normalisedWhPerKm,
      uWhPerKm: normalised.uWhPerKm,
      found: findings.flatMap(notable),
    });
  }
  return verdicts;
}

type SubjectIds = { carId: string; setupId: string; loopId: string };

const idsOf = ({ carId, setupId, loopId }: RunRecord): SubjectIds => ({ carId, setupId, loopId });

function subjectsIfTaken(found: ReductionSubjects, record: RunRecord, actor: Actor) {
  try {
    return requireSubjects(found, record, actor, actor.world ?? RECORD);
  } catch (error) {
    if (error instanceof InvalidInput) return undefined;
    throw error;
  }
}

function notable({ ruleId, outcome, sentence, said }: FindingResult): RowVerdict['found'] {
  if (outcome !== 'fail' && outcome !== 'caution') return [];
  return [{ ruleId, outcome, sentence, ...(said === undefined ? {} : { said }) }];
}

/** Rows of one sheet are mostly of one car on one loop. */
function remembered<Key, Value>(read: (key: Key) => Promise<Value>): (key: Key) => Promise<Value> {
  const kept = new Map<string, Promise<Value>>();
  return (key) => {
    const text = JSON.stringify(key);
    const known = kept.get(text) ?? read(key);
    kept.set(text, known);
    return known;
  };
}
