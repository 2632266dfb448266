import { describe, expect, it } from 'vitest';
import {
  STUDY_EVENTS,
  STUDY_STATES,
  type StudyEvent,
  type StudyState,
  studyStateAfter,
  studyStatesAllowing,
} from '@/lib/study/studyState';

/** Every way there is, written out: what is not here must not be. */
const WAYS: readonly [StudyState, StudyEvent, StudyState][] = [
  ['draft', 'begin', 'running'],
  ['draft', 'abandon', 'abandoned'],
  ['running', 'complete', 'complete'],
  ['running', 'abandon', 'abandoned'],
];

describe('the states of a study', () => {
  it.each(STUDY_STATES.flatMap((state) => STUDY_EVENTS.map((event) => [state, event] as const)))(
    'from %s by %s',
    (state, event) => {
      const way = WAYS.find(([from, by]) => from === state && by === event);
      expect(studyStateAfter(state, event)).toBe(way?.[2]);
      expect(studyStatesAllowing(event).includes(state)).toBe(way !== undefined);
    },
  );
});
