import type { RepeatedJob } from '@/lib/jobs/askForRepeated';
import type { Attempt, JobHandler, JobHandlers } from '@/lib/jobs/jobPlace';
import { underLease } from '@/lib/jobs/lease';
import { type ComparisonGroupRef, parseComparisonGroupKey } from '@/lib/run/comparisonGroup';
import { worldKey } from '@/lib/run/world';
import { MAIL_NOTICES_JOB, MAIL_NOTICES_KEY } from '@/lib/store/notices';
import { mailFromEnvironment } from './accounts/mail';
import { mailNotices } from './accounts/mailNotices';
import { sweepKeptAnswers } from './accounts/onlyOnce';
import { computeCorrection } from './corrections/computeCorrection';
import { CORRECT_JOB } from './corrections/propose';
import { concludeFactors, FACTORS_JOB } from './factors/concludeFactors';
import { CHECK_JOB, checkFit } from './holds/checkFit';
import { dryRunImport } from './imports/dryRunImport';
import { runImport } from './imports/runImport';
import { CHECK_IMPORT_JOB, IMPORT_JOB } from './imports/startImport';
import { fillNameKeys, NAME_KEYS_JOB } from './names/fillNameKeys';
import { publishSnapshots, SNAPSHOT_JOB } from './openData/publishSnapshot';
import { CLEAR_OTHER_JOB, checkOther, clearOther } from './otherRegistries/checkOther';
import { CHECK_OTHER_JOB } from './otherRegistries/receive';
import { SWEEP_JOB, sweepFiles } from './privacy/sweepFiles';
import { ACTIVATE_JOB, activateDue } from './protocol/drafts/activateDraft';
import { DRY_RUN_JOB, dryRunDraft } from './protocol/drafts/dryRun';
import { refitGroup } from './rankings/refitGroup';
import { REFIT_POOLED_JOB, refitPooled } from './rankings/refitPooled';
import type { Registry } from './registry';
import { LEARN_JOB, learnRoadLoad } from './roadLoads/learnRoadLoad';
import { HASH_PICTURES_JOB, hashPictures } from './runs/hashPictures';
import { JUDGE_AGAIN_JOB, judgeAgain } from './runs/judgeAgain';
import { REBUILD_INPUTS_JOB, rebuildInputs } from './runs/rebuildInputs';
import { RENORMALISE_JOB, renormaliseAll } from './runs/renormaliseAll';

/** What the background does in one attempt, by kind of job; everything it writes is under the attempt's lease. */
export function jobHandlers(registry: Registry, { job, report }: Attempt): JobHandlers {
  const leased = { ...registry, db: underLease(registry.db, job) };
  return new Map<string, JobHandler>([
    [
      'refit',
      async (key) => {
        await refitGroup(leased, groupOf(key), (done, of) => report({ done, of }));
      },
    ],
    [CHECK_JOB, (key) => checkFit(leased, groupOf(key))],
    [FACTORS_JOB, (world) => concludeFactors(leased, worldKey(world))],
    [
      REFIT_POOLED_JOB,
      async () => {
        await refitPooled(leased);
      },
    ],
    [
      LEARN_JOB,
      async (modelId) => {
        await learnRoadLoad(leased, modelId);
      },
    ],
    [
      REBUILD_INPUTS_JOB,
      async () => {
        await rebuildInputs(leased, (done) => report({ done, of: null }));
      },
    ],
    [
      RENORMALISE_JOB,
      async () => {
        await renormaliseAll(leased, (done, of) => report({ done, of }));
      },
    ],
    [
      HASH_PICTURES_JOB,
      async () => {
        await hashPictures(leased, (done) => report({ done, of: null }));
      },
    ],
    [
      JUDGE_AGAIN_JOB,
      async (world) => {
        await judgeAgain(leased, world, (done) => report({ done, of: null }));
      },
    ],
    [
      CORRECT_JOB,
      async (correctionId) => {
        await computeCorrection(leased, correctionId, (done, of) => report({ done, of }));
      },
    ],
    [
      NAME_KEYS_JOB,
      async () => {
        await fillNameKeys(leased, (done) => report({ done, of: null }));
      },
    ],
    [
      SWEEP_JOB,
      async () => {
        await sweepFiles(leased);
        await sweepKeptAnswers(leased);
      },
    ],
    [DRY_RUN_JOB, (draftId) => dryRunDraft(leased, draftId, (done, of) => report({ done, of }))],
    [
      ACTIVATE_JOB,
      async () => {
        await activateDue(leased);
      },
    ],
    [SNAPSHOT_JOB, () => publishSnapshots(leased)],
    [
      MAIL_NOTICES_JOB,
      async () => {
        await mailNotices(leased, mailFromEnvironment());
      },
    ],
    [CHECK_OTHER_JOB, (snapshotId) => checkOther(leased, snapshotId, (done, of) => report({ done, of }))],
    [CLEAR_OTHER_JOB, () => clearOther(leased)],
    [CHECK_IMPORT_JOB, (importId) => dryRunImport(leased, importId)],
    [IMPORT_JOB, (importId) => runImport(leased, importId)],
  ]);
}

function groupOf(key: string): ComparisonGroupRef {
  const group = parseComparisonGroupKey(key);
  if (group === undefined) throw new Error(`not a comparison group: ${key}`);
  return group;
}

/** What the background does by itself: once a day, and each hour what a job of its own was asked for and may have lost. */
export const REPEATED_JOBS: readonly RepeatedJob[] = [
  { kind: SWEEP_JOB, key: 'all', everyMs: 24 * 60 * 60 * 1000 },
  { kind: ACTIVATE_JOB, key: 'due', everyMs: 60 * 60 * 1000 },
  { kind: MAIL_NOTICES_JOB, key: MAIL_NOTICES_KEY, everyMs: 60 * 60 * 1000 },
  { kind: REFIT_POOLED_JOB, key: 'all', everyMs: 24 * 60 * 60 * 1000 },
  { kind: CLEAR_OTHER_JOB, key: 'all', everyMs: 24 * 60 * 60 * 1000 },
  { kind: SNAPSHOT_JOB, key: 'all', everyMs: 24 * 60 * 60 * 1000, firstAfterMs: 10 * 60 * 1000 },
];
