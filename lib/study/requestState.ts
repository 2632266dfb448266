/**
 * The states of what readers ask for. A draft of a study changes nothing yet: several testers may plan the same, and the
 * first that begins takes it.
 */
export const REQUEST_STATES = ['open', 'taken', 'answered', 'closed'] as const;
export type RequestState = (typeof REQUEST_STATES)[number];

/** `begin`, `complete` and `abandon` are a study's; whoever asked may close it while nobody drives it. */
export const REQUEST_EVENTS = ['begin', 'complete', 'abandon', 'close'] as const;
export type RequestEvent = (typeof REQUEST_EVENTS)[number];

const TRANSITIONS: Readonly<Record<RequestState, Partial<Record<RequestEvent, RequestState>>>> = {
  open: { begin: 'taken', close: 'closed' },
  taken: { complete: 'answered', abandon: 'open' },
  answered: {},
  closed: {},
};

/** The state after the event, or undefined where the table has no such way. */
export function requestStateAfter(state: RequestState, event: RequestEvent): RequestState | undefined {
  return TRANSITIONS[state][event];
}

/** The one state from which the event leads on. */
export function requestStateBefore(event: RequestEvent): RequestState {
  return REQUEST_STATES.find((state) => TRANSITIONS[state][event] !== undefined) ?? 'open';
}

export const REQUEST_STATE_LABELS: Readonly<Record<RequestState, string>> = {
  open: 'Open',
  taken: 'Being driven',
  answered: 'Answered',
  closed: 'Taken back',
};
