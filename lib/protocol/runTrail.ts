import type { RunStatus } from '@/lib/run/runStatus';
import { wordsOfAct } from '@/lib/trail/acts';
import { wordsOfRule } from './rules/allRules';
import { secondReasonWords } from './secondApproval';

export interface Person {
  displayName: string;
  slug: string;
}

/** A step in the life of a run, as its timeline shows it. */
export interface TrailStep {
  key: string;
  state: RunStatus | 'claimed';
  label: string;
  at: string;
  by: Person;
  note: string;
}

export interface TrailDecision {
  kind: 'approve' | 'askChanges' | 'reject';
  /** Why a second approval was asked for beside it, in words; empty where it stood by itself. */
  secondFor: string[];
  at: string;
  by: Person;
  note: string;
  reasons: { ruleId: string; title: string; text: string }[];
}

export interface TrailRevision {
  number: number;
  submittedAt: string;
  submittedBy: Person;
  protocolLabel: string;
  decisions: TrailDecision[];
  appeal: { words: string; at: string } | null;
}

/** A run as it is kept, as far as its life goes. */
interface KeptRevision {
  number: number;
  submittedAt: Date;
  submittedBy: Person;
  protocolVersion: { label: string };
  /** What made it, where nobody sent it in. */
  correction?: { number: number; reason: string } | null;
  appeal: { words: string; appealedAt: Date; by: Person } | null;
  decisions: readonly {
    kind: TrailDecision['kind'];
    note: string;
    decidedAt: Date;
    round: number;
    secondFor: readonly string[];
    reviewer: Person;
    reasons: readonly { ruleId: string; text: string }[];
  }[];
}

interface KeptRun {
  status: RunStatus;
  revisions: readonly KeptRevision[];
  claims: readonly { claimedAt: Date; releasedAt: Date | null; reviewer: Person }[];
  retraction: { reason: string; retractedAt: Date; by: Person } | null;
}

const DECIDED = { approve: 'approved', askChanges: 'changesAsked', reject: 'rejected' } as const;
const DECISION_LABELS = {
  approve: 'Approved',
  askChanges: 'Changes asked',
  reject: 'Rejected',
} as const;

function submissionLabel({ number, correction }: KeptRevision): string {
  if (correction) return `Correction ${correction.number} makes revision ${number}`;
  return number === 1 ? 'Submitted' : `Resubmitted, revision ${number}`;
}

/** From the first submission to today, oldest first: only what was kept as a row of its own. */
export function trailSteps(run: KeptRun): TrailStep[] {
  const steps = run.revisions.flatMap((revision) => [
    {
      key: `submitted ${revision.number}`,
      state: 'submitted' as const,
      label: submissionLabel(revision),
      at: revision.submittedAt.toISOString(),
      by: revision.submittedBy,
      note: revision.correction?.reason ?? '',
    },
    ...decisionSteps(revision),
  ]);
  const claim = run.claims.find((candidate) => candidate.releasedAt === null);
  return [
    ...steps,
    ...(run.status === 'submitted' && claim
      ? [
          {
            key: 'claimed',
            state: 'claimed' as const,
            label: 'Taken for review',
            at: claim.claimedAt.toISOString(),
            by: claim.reviewer,
            note: '',
          },
        ]
      : []),
    ...(run.retraction
      ? [
          {
            key: 'retracted',
            state: 'retracted' as const,
            label: 'Retracted',
            at: run.retraction.retractedAt.toISOString(),
            by: run.retraction.by,
            note: run.retraction.reason,
          },
        ]
      : []),
  ];
}

/** Decisions and the appeal between them, in their order. */
function decisionSteps({ number, decisions, appeal }: KeptRevision): TrailStep[] {
  const steps = decisions.map((decision, place) => ({
    key: `decided ${number}.${place + 1}`,
    state: decision.secondFor.length > 0 ? ('claimed' as const) : DECIDED[decision.kind],
    label: decision.secondFor.length > 0 ? 'Approved, the first of two' : DECISION_LABELS[decision.kind],
    at: decision.decidedAt.toISOString(),
    by: decision.reviewer,
    note: decision.note,
  }));
  if (appeal === null) return steps;
  const appealed = {
    key: `appealed ${number}`,
    state: 'submitted' as const,
    label: 'Appealed against the rejection',
    at: appeal.appealedAt.toISOString(),
    by: appeal.by,
    note: appeal.words,
  };
  return [...steps, appealed].sort((a, b) => a.at.localeCompare(b.at));
}

/**
 * A run without the first approval that it waits on: whoever is to give the second reads it as the first did, and its
 * tester and others hear of it when the run is decided.
 */
export function withoutPending<
  Revision extends { decisions: readonly { round: number; secondFor: readonly string[] }[] },
  Run extends { status: RunStatus; round: number; revisions: readonly Revision[] },
>(run: Run): Run {
  if (run.status !== 'submitted') return run;
  const isPending = (decision: { round: number; secondFor: readonly string[] }) =>
    decision.round === run.round && decision.secondFor.length > 0;
  const revisions = run.revisions.map((revision, place) =>
    place === run.revisions.length - 1
      ? { ...revision, decisions: revision.decisions.filter((decision) => !isPending(decision)) }
      : revision,
  );
  return { ...run, revisions };
}

/** Every revision with what was decided on it and why. */
export function trailRevisions(revisions: readonly KeptRevision[]): TrailRevision[] {
  return revisions.map((revision) => ({
    number: revision.number,
    submittedAt: revision.submittedAt.toISOString(),
    submittedBy: revision.submittedBy,
    protocolLabel: revision.protocolVersion.label,
    appeal: revision.appeal && {
      words: revision.appeal.words,
      at: revision.appeal.appealedAt.toISOString(),
    },
    decisions: revision.decisions.map((decision) => ({
      kind: decision.kind,
      secondFor: decision.secondFor.map(secondReasonWords),
      at: decision.decidedAt.toISOString(),
      by: decision.reviewer,
      note: decision.note,
      reasons: decision.reasons.map(({ ruleId, text }) => ({
        ruleId,
        title: wordsOfRule(ruleId).title,
        text,
      })),
    })),
  }));
}

export interface AuditStep {
  id: string;
  at: string;
  what: string;
  by: string;
}

export function auditSteps(
  rows: readonly { id: bigint; at: Date; action: string; actor: { displayName: string } | null }[],
  /** Acts of reviewers from then on are told without their names, while a second approval is waited for. */
  namelessFrom?: Date,
): AuditStep[] {
  const isNameless = ({ at, action }: { at: Date; action: string }) =>
    namelessFrom !== undefined && at >= namelessFrom && action.startsWith('review.');
  return rows.map((row) => ({
    id: String(row.id),
    at: row.at.toISOString(),
    what: wordsOfAct(row.action),
    by: isNameless(row) ? 'a reviewer' : (row.actor?.displayName ?? 'the registry'),
  }));
}
