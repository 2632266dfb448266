import type { RunStatus } from '@/lib/run/runStatus';
import { wordsOfAct } from '@/lib/trail/acts';
import { wordsOfRule } from './rules/allRules';

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
}

/** A run as it is kept, as far as its life goes. */
interface KeptRevision {
  number: number;
  submittedAt: Date;
  submittedBy: Person;
  protocolVersion: { label: string };
  decisions: readonly {
    kind: TrailDecision['kind'];
    note: string;
    decidedAt: Date;
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

/** From the first submission to today, oldest first: only what was kept as a row of its own. */
export function trailSteps(run: KeptRun): TrailStep[] {
  const steps = run.revisions.flatMap((revision) => [
    {
      key: `submitted ${revision.number}`,
      state: 'submitted' as const,
      label: revision.number === 1 ? 'Submitted' : `Resubmitted, revision ${revision.number}`,
      at: revision.submittedAt.toISOString(),
      by: revision.submittedBy,
      note: '',
    },
    ...revision.decisions.map((decision) => ({
      key: `decided ${revision.number}`,
      state: DECIDED[decision.kind],
      label: DECISION_LABELS[decision.kind],
      at: decision.decidedAt.toISOString(),
      by: decision.reviewer,
      note: decision.note,
    })),
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

/** Every revision with what was decided on it and why. */
export function trailRevisions(revisions: readonly KeptRevision[]): TrailRevision[] {
  return revisions.map((revision) => ({
    number: revision.number,
    submittedAt: revision.submittedAt.toISOString(),
    submittedBy: revision.submittedBy,
    protocolLabel: revision.protocolVersion.label,
    decisions: revision.decisions.map((decision) => ({
      kind: decision.kind,
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
): AuditStep[] {
  return rows.map((row) => ({
    id: String(row.id),
    at: row.at.toISOString(),
    what: wordsOfAct(row.action),
    by: row.actor?.displayName ?? 'the registry',
  }));
}
