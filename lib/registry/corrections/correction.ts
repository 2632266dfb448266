import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import type { Person } from '@/lib/protocol/runTrail';
import { type ChangeRow, changeRows } from '@/lib/reduction/corrections/changeWords';
import { NotFound } from '@/lib/run/errors';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import type { RunStatus } from '@/lib/run/runStatus';
import { type WorldKey, worldKey } from '@/lib/run/world';
import {
  type CorrectionSums,
  hasInterestIn,
  hasRunOf,
  hasStudyOf,
  listCorrectionRuns,
  sumsOfCorrection,
} from '@/lib/store/correctionRuns';
import { correctionByNumber, type StoredCorrection } from '@/lib/store/corrections';
import type { Display } from '@/lib/units/display';
import { recordPrivateRead } from '../audit/recordAct';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';
import { progressOfJob, type WorkProgress } from '../work/progress';
import { CORRECT_JOB } from './propose';
import { type SubjectNamed, subjectNamed } from './subjectNamed';

const PAGE_SIZE = 50;

export interface CorrectedRunRow {
  number: number;
  isCounted: boolean;
  status: RunStatus;
  localDate: string;
  tester: Person;
  setup: string;
  before: { whPerKm: number; uWhPerKm: number } | null;
  after: { whPerKm: number; uWhPerKm: number } | null;
  failsBefore: number;
  failsAfter: number;
  cautionsBefore: number;
  cautionsAfter: number;
  /** Titles of the rules that would fail today. */
  failing: string[];
}

/** Whether the one who asks can decide now, and if not, why not. */
export type DecisionStanding = 'open' | 'own' | 'reader' | 'faulty' | 'computing' | 'decided';

export interface CorrectionView {
  id: string;
  number: number;
  world: WorldKey;
  state: StoredCorrection['state'];
  subject: SubjectNamed;
  changes: ChangeRow[];
  reason: string;
  proposedBy: Person;
  proposedAt: string;
  computation: number;
  fault: string | null;
  decided: { by: Person | null; at: string; reason: string } | null;
  sums: CorrectionSums | undefined;
  runs: Page<CorrectedRunRow>;
  standing: DecisionStanding;
  mayWithdraw: boolean;
  progress: WorkProgress | null;
}

/** A correction with every run that it changes, for who proposed it, testers of its runs and reviewers. */
export async function readCorrection(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
  { from, display }: { from?: string | undefined; display: Display },
): Promise<CorrectionView> {
  const correction = await correctionByNumber(registry.db, number);
  if (correction === null) throw new NotFound('This correction does not exist.');
  const world = worldKey(correction.world);
  const hasOwnRun = actor !== undefined && (await hasRunOf(registry.db, correction.id, actor.accountId));
  const owner = hasOwnRun ? actor?.accountId : correction.proposedById;
  authorise(actor, 'readCorrection', owner, world);
  if (actor.accountId !== owner)
    await recordPrivateRead(registry, actor, { kind: 'correction', id: correction.id });
  const isOwn =
    hasOwnRun ||
    correction.proposedById === actor.accountId ||
    (await hasInterestIn(registry.db, correction.id, actor.accountId)) ||
    (await hasStudyOf(registry.db, correction.id, actor.accountId));
  const isOpen = correction.state === 'computing' || correction.state === 'waiting';
  const [subject, sums, runs] = await Promise.all([
    subjectNamed(registry.db, correction, actor),
    sumsOfCorrection(registry.db, correction.id),
    readPage(from, {
      size: PAGE_SIZE,
      key: z.tuple([keyPart.integer]).transform(([last]) => last),
      read: (place, take) => listCorrectionRuns(registry.db, correction.id, place, take),
      keyOf: (row) => [row.number],
    }),
  ]);
  return {
    id: correction.id,
    number,
    world,
    state: correction.state,
    subject,
    changes: correction.change === undefined ? [] : changeRows(correction.change, display),
    reason: correction.reason,
    proposedBy: correction.proposedBy,
    proposedAt: correction.proposedAt.toISOString(),
    computation: correction.computation,
    fault: correction.fault,
    decided:
      correction.decidedAt === null
        ? null
        : { by: correction.decidedBy, at: correction.decidedAt.toISOString(), reason: correction.decision },
    sums,
    runs: { ...runs, rows: runs.rows.map(correctedRow) },
    standing: standingOf(actor, correction, isOwn),
    mayWithdraw: isOpen && may(actor, 'withdrawCorrection', correction.proposedById, world),
    progress:
      correction.state === 'computing' ? await progressOfJob(registry.db, CORRECT_JOB, correction.id) : null,
  };
}

function standingOf(actor: Actor, correction: StoredCorrection, isOwn: boolean): DecisionStanding {
  if (correction.state === 'computing') return 'computing';
  if (correction.state !== 'waiting') return 'decided';
  if (isOwn) return may(actor, 'readQueue') ? 'own' : 'reader';
  if (!may(actor, 'decideCorrection', correction.proposedById, worldKey(correction.world))) return 'reader';
  return correction.fault === null ? 'open' : 'faulty';
}

function correctedRow(row: Awaited<ReturnType<typeof listCorrectionRuns>>[number]): CorrectedRunRow {
  const { run, findings, beforeWhPerKm, beforeUWhPerKm, afterWhPerKm, afterUWhPerKm, ...same } = row;
  const result = (whPerKm: number | null, uWhPerKm: number | null) =>
    whPerKm === null || uWhPerKm === null ? null : { whPerKm, uWhPerKm };
  return {
    ...same,
    status: run.status,
    localDate: dateText(run.localDate),
    tester: run.tester,
    setup: run.setup?.title ?? '',
    before: result(beforeWhPerKm, beforeUWhPerKm),
    after: result(afterWhPerKm, afterUWhPerKm),
    failing: findings
      .filter(({ outcome }) => outcome === 'fail')
      .map(({ ruleId }) => wordsOfRule(ruleId).title),
  };
}
