/**
 * The states of a study and the only ways between them. All of them stay listed: a study that was given up says as much
 * about how questions are asked as one that was answered.
 */
export const STUDY_STATES = ['draft', 'running', 'complete', 'abandoned'] as const;
export type StudyState = (typeof STUDY_STATES)[number];

/** `begin` fixes the plan: by its tester, or by the first run of it that is sent in. */
export const STUDY_EVENTS = ['begin', 'complete', 'abandon'] as const;
export type StudyEvent = (typeof STUDY_EVENTS)[number];

const TRANSITIONS: Readonly<Record<StudyState, Partial<Record<StudyEvent, StudyState>>>> = {
  draft: { begin: 'running', abandon: 'abandoned' },
  running: { complete: 'complete', abandon: 'abandoned' },
  complete: {},
  abandoned: {},
};

/** The state after the event, or undefined where the table has no such way. */
export function studyStateAfter(state: StudyState, event: StudyEvent): StudyState | undefined {
  return TRANSITIONS[state][event];
}

/** The states from which the event is allowed: the `where state in …` of a conditional update. */
export function studyStatesAllowing(event: StudyEvent): StudyState[] {
  return STUDY_STATES.filter((state) => TRANSITIONS[state][event] !== undefined);
}

export const STUDY_STATE_LABELS: Readonly<Record<StudyState, string>> = {
  draft: 'Draft',
  running: 'Running',
  complete: 'Complete',
  abandoned: 'Given up',
};
