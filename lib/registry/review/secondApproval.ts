import { SECOND_APPROVAL, type SecondReason, secondReasons } from '@/lib/protocol/secondApproval';
import { storedResult } from '@/lib/reduction/runResult';
import { worldKey } from '@/lib/run/world';
import { runDossier } from '@/lib/store/runDossier';
import { runState } from '@/lib/store/runs';
import { approvalsOf, countOtherReviewers, placesInClass } from '@/lib/store/secondApprovals';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';
import { standingOf } from '../runs/run';
import { interestSubjects } from './eligible';

export interface SecondApproval {
  reasons: SecondReason[];
  /** Reviewers who could give it: with none, one approval decides. */
  others: number;
}

type KeptRun = NonNullable<Awaited<ReturnType<typeof runState>>>;

/** What an approval by this reviewer would need beside it. Nothing is asked of one that is the second already. */
export async function secondApprovalOf(
  registry: Registry,
  reviewerId: string,
  runId: string,
): Promise<SecondApproval> {
  const run = await runState(registry.db, runId);
  const revision = run?.revisions[0];
  if (run === null || revision === undefined || run.firstApprovalById !== null)
    return { reasons: [], others: 0 };
  const world = worldKey(run.world);
  const [circumstances, others] = await Promise.all([
    circumstancesOf(registry, run),
    countOtherReviewers(registry.db, {
      ...interestSubjects(run),
      world,
      revisionId: revision.id,
      exceptId: reviewerId,
    }),
  ]);
  return { reasons: secondReasons({ ...circumstances, reviewerId }), others };
}

async function circumstancesOf(registry: Registry, run: KeptRun) {
  const world = worldKey(run.world);
  const dossier = await runDossier(registry.db, run.number);
  const rows = dossier?.revisions.at(-1)?.normalisations ?? [];
  const result = storedResult(rows, await shownLabel(registry.db, world));
  const [approvals, places, standing] = await Promise.all([
    approvalsOf(registry.db, { testerId: run.testerId, exceptRunId: run.id }, SECOND_APPROVAL.pairAmong),
    dossier?.setupId && run.cruiseClassKey
      ? placesInClass(registry.db, { cruiseClassKey: run.cruiseClassKey, world }, dossier.setupId)
      : { leaders: [], own: null },
    dossier ? standingOf(registry, dossier, result) : null,
  ]);
  const normalised = result?.normalisation.outcome === 'normalised' ? result.normalisation : undefined;
  return {
    z: normalised ? Math.log(normalised.normalisedWhPerKm) : null,
    setupId: dossier?.setupId ?? '',
    ...places,
    verdict: standing === null || standing === 'due' ? null : (standing.screening?.verdict ?? null),
    approvedOfTester: approvals.approved,
    latestApprovers: approvals.latestApprovers,
  };
}
