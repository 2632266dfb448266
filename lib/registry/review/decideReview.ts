import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { FindingResult } from '@/lib/protocol/evaluate';
import { checkReasons, reviewersWords } from '@/lib/protocol/reasons';
import { hashOfRules } from '@/lib/protocol/rulePlace';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { Conflict, InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { statusAfter } from '@/lib/run/runStatus';
import { worldKey } from '@/lib/run/world';
import { isDrawn } from '@/lib/stats/reReview';
import { appendAudit } from '@/lib/store/audit';
import { isUniqueViolation, type Queryable } from '@/lib/store/database';
import { insertNotification } from '@/lib/store/notices';
import { insertReReview } from '@/lib/store/reReviews';
import { findingsOf, insertDecision, openClaim, releaseOpenClaim } from '@/lib/store/reviews';
import { moveRun, runState } from '@/lib/store/runs';
import { countRun } from '../counted/countRun';
import { enqueueConclusions } from '../rankings/enqueueConclusions';
import type { Registry } from '../registry';
import { tellStudyOwners } from '../studies/tellOfStudy';
import { requireEligible } from './eligible';
import { holdBeforeItCounts } from './holdSharedPictures';
import { secondApprovalOf } from './secondApproval';

export const decideReviewSchema = z.object({
  runId: z.uuid(),
  /** The revision that the reviewer read. */
  revisionNumber: z.int32().min(1),
  kind: z.enum(['approve', 'askChanges', 'reject'], {
    error: 'No decision chosen. | The run waits for one. | Choose approve, ask for changes or reject.',
  }),
  note: z.string().trim().max(4000).default(''),
  reasons: z
    .array(
      z.object({
        ruleId: z.string().min(1).max(80),
        text: z
          .string()
          .trim()
          .min(1, 'The reason has no text. | The tester has to act on it. | Write what to do.')
          .max(2000),
      }),
    )
    .max(60)
    .default([]),
});

type DecisionInput = z.output<typeof decideReviewSchema>;

const NOTICE = {
  approve: 'was approved and counts from the next fit on.',
  askChanges: 'needs changes before it can be approved.',
  reject: 'was rejected.',
} as const;

/** What came of a decision: the run's new state, or that a second approval is waited for. */
export type DecisionOutcome = DecisionInput['kind'] | 'approveFirst';

/**
 * A reviewer's decision on the revision that they read. One transaction: state, decision, release of the claim, notice
 * to the tester, audit entry and the refit that an approval makes necessary. A decision that comes second changes
 * nothing and says so. An approval that needs another one (lib/protocol/secondApproval.ts) leaves the run waiting,
 * where there is somebody to give it; any other decision stands by itself.
 */
export async function decideReview(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DecisionOutcome> {
  const decision = parseInput(decideReviewSchema, input);
  const run = await runState(registry.db, decision.runId);
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'reviewRun', run.testerId, worldKey(run.world));
  const revision = run.revisions[0];
  if (revision === undefined || run.status !== 'submitted') throw decided();
  if (revision.number !== decision.revisionNumber) {
    throw new Conflict('The tester has sent a newer revision: read that one before you decide.');
  }
  const claim = await openClaim(registry.db, run.id);
  if (claim?.reviewerId !== actor.accountId) {
    throw new Conflict(
      claim === null
        ? 'Claim the run before you decide.'
        : `${claim.reviewer.displayName} has claimed this run.`,
    );
  }
  await requireEligible(registry.db, actor.accountId, run);
  await requireReasons(registry, revision.id, decision);
  const second =
    decision.kind === 'approve' ? await secondApprovalOf(registry, actor.accountId, run.id) : undefined;
  const secondFor = second && second.others > 0 ? second.reasons : [];
  const outcome = secondFor.length > 0 ? 'approveFirst' : decision.kind;
  try {
    await registry.db.$transaction((tx) =>
      writeDecision(tx, { actor, run, revision, decision, outcome, secondFor, at: registry.now() }),
    );
  } catch (error) {
    if (isUniqueViolation(error)) throw decided();
    throw error;
  }
  return outcome;
}

interface DecisionToWrite {
  actor: Actor;
  run: NonNullable<Awaited<ReturnType<typeof runState>>>;
  revision: { id: string; number: number; submittedAt: Date };
  decision: DecisionInput;
  outcome: DecisionOutcome;
  secondFor: string[];
  at: Date;
}

async function writeDecision(
  tx: Queryable,
  { actor, run, revision, decision, outcome, secondFor, at }: DecisionToWrite,
): Promise<void> {
  const next = outcome === 'approveFirst' ? 'submitted' : statusAfter('submitted', outcome);
  if (next === undefined) throw decided();
  // The version of the draft rises with each submission: a revision sent meanwhile is not decided unread. Nor is
  // anything decided twice as the first of two.
  const moved = await moveRun(
    tx,
    run.id,
    ['submitted'],
    outcome === 'approveFirst'
      ? { firstApprovalById: actor.accountId }
      : {
          status: next,
          decidedAt: at,
          ...(outcome === 'approve' ? { approvedRevision: revision.number } : {}),
        },
    run.draftVersion,
    run.firstApprovalById,
  );
  if (!moved) throw decided();
  const { id } = await insertDecision(tx, {
    revisionId: revision.id,
    reviewerId: actor.accountId,
    kind: decision.kind,
    note: decision.note,
    decidedAt: at,
    round: run.round,
    secondFor,
    reasons: decision.reasons,
  });
  if (outcome !== 'approveFirst' && isDrawn(id)) await insertReReview(tx, id, at);
  if (!(await releaseOpenClaim(tx, run.id, actor.accountId, at)))
    throw new Conflict('You no longer hold this run: claim it again.');
  if (outcome !== 'approveFirst')
    await insertNotification(tx, {
      accountId: run.testerId,
      runId: run.id,
      kind: `review.${outcome}`,
      text: noticeOf(run.number, outcome, decision),
      href:
        outcome === 'askChanges'
          ? `/record/${run.id}${hashOfRules(decision.reasons.map(({ ruleId }) => ruleId))}`
          : `/runs/${run.number}`,
      createdAt: at,
    });
  if (outcome !== 'approveFirst')
    await tellStudyOwners(tx, [run.id], outcome, { accountId: actor.accountId, at });
  await appendAudit(tx, {
    at,
    actorId: actor.accountId,
    action: `review.${outcome}`,
    subjectKind: 'run',
    subjectId: run.id,
    details: {
      revision: revision.number,
      rules: decision.reasons.map((reason) => reason.ruleId),
      ...(secondFor.length > 0 ? { secondFor } : {}),
    },
  });
  if (outcome === 'approve') {
    await holdBeforeItCounts(tx, run, revision, at);
    await countRun(tx, run, at);
    await enqueueConclusions(tx, run, at);
  }
}

/** The outcome, and where the run came back why: nobody has to open it to know what is asked. */
function noticeOf(
  runNumber: number,
  outcome: keyof typeof NOTICE,
  decision: Pick<DecisionInput, 'note' | 'reasons'>,
): string {
  const words = outcome === 'approve' ? '' : reviewersWords(decision);
  return `Run ${runNumber} ${NOTICE[outcome]}${words === '' ? '' : ` The reviewer: “${words}”`}`;
}

/** An approval needs a run without failed rules; anything else answers every failed rule, or names one at least. */
async function requireReasons(
  registry: Registry,
  revisionId: string,
  decision: DecisionInput,
): Promise<void> {
  const findings = await findingsOf(registry.db, revisionId);
  if (decision.kind === 'approve') {
    const failed = findings
      .filter((finding) => finding.outcome === 'fail')
      .map((finding) => wordsOfRule(finding.ruleId).title);
    if (failed.length === 0) return;
    throw new InvalidInput([
      {
        path: 'kind',
        what: `The run fails ${failed.length === 1 ? 'a rule' : `${failed.length} rules`}: ${failed.map((title) => `“${title}”`).join(', ')}.`,
        why: 'A run that fails a rule of its protocol version does not count.',
        fix: 'Ask for changes, or reject it, with a reason for each.',
      },
    ]);
  }
  const issues = checkReasons(findings.map(asResult), decision.reasons);
  if (issues.length > 0) throw new InvalidInput(issues);
}

function asResult(finding: Awaited<ReturnType<typeof findingsOf>>[number]): FindingResult {
  const { ruleId, outcome, sentence } = finding;
  return { ruleId, outcome, sentence, numbers: [] };
}

function decided(): Conflict {
  return new Conflict('This run is already decided, or was taken back by its tester.');
}
