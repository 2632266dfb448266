/**
 * The states of a run and the only ways between them.
 * `claim` and `release` do not change the state: a claim is a row of its own.
 */
export const RUN_STATUSES = [
  'draft',
  'submitted',
  'changesAsked',
  'approved',
  'rejected',
  'retracted',
  'superseded',
] as const;
export type RunStatus = (typeof RUN_STATUSES)[number];

export type RunEvent =
  | 'submit'
  | 'withdraw'
  | 'approve'
  | 'askChanges'
  | 'reject'
  | 'retract'
  | 'supersede'
  | 'appeal';

const TRANSITIONS: Readonly<Record<RunStatus, Partial<Record<RunEvent, RunStatus>>>> = {
  draft: { submit: 'submitted' },
  submitted: { withdraw: 'draft', approve: 'approved', askChanges: 'changesAsked', reject: 'rejected' },
  changesAsked: { submit: 'submitted' },
  approved: { retract: 'retracted', supersede: 'superseded' },
  rejected: { appeal: 'submitted' },
  retracted: {},
  superseded: {},
};

/** The state after the event, or undefined where the table has no such way. */
export function statusAfter(status: RunStatus, event: RunEvent): RunStatus | undefined {
  return TRANSITIONS[status][event];
}

/** The states from which the event is allowed: the `where status in …` of a conditional update. */
export function statusesAllowing(event: RunEvent): RunStatus[] {
  return RUN_STATUSES.filter((status) => TRANSITIONS[status][event] !== undefined);
}

/** Only these are shown to readers; the rest only to their tester and to reviewers. */
export const PUBLIC_RUN_STATUSES: readonly RunStatus[] = ['approved', 'retracted', 'superseded'];

/** What is over, or was never sent, counts nowhere and cannot be held. */
export const HOLDABLE_STATUSES: readonly RunStatus[] = ['submitted', 'changesAsked', 'approved'];

export const RUN_STATUS_LABELS: Readonly<Record<RunStatus, string>> = {
  draft: 'Draft',
  submitted: 'Waiting for review',
  changesAsked: 'Changes asked',
  approved: 'Approved',
  rejected: 'Rejected',
  retracted: 'Retracted',
  superseded: 'Superseded',
};
