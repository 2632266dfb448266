import { describe, expect, it } from 'vitest';
import { drivenSessions, isAsPlanned } from '@/lib/study/driven';
import { dayOfRuns, planOf } from './plans';

const FOUR = [0, 0, 0, 0];
const marks = (sessions: ReturnType<typeof drivenSessions>) =>
  sessions.map(({ runs }) => runs.map(({ deviations }) => deviations.join(', ')));

describe('what was driven, held against the plan', () => {
  const plan = planOf(2);

  it('has no mark where each run was the next of the order', () => {
    const sessions = drivenSessions(plan, [...dayOfRuns(2, 'abba', FOUR), ...dayOfRuns(1, 'abba', FOUR)]);
    expect(sessions.map(({ sessionId }) => sessionId)).toEqual(['s1', 's2']);
    expect(marks(sessions).flat().join('')).toBe('');
    expect(isAsPlanned(plan, sessions)).toBe(true);
  });

  it('marks order, loop, repeats beyond and what came before the plan, and hides none', () => {
    const runs = [
      ...dayOfRuns(1, 'aabba', [...FOUR, 0]),
      ...dayOfRuns(2, 'ab', FOUR, { loopId: 'another', isBeforePlan: true }),
    ];
    const sessions = drivenSessions(plan, runs);
    expect(marks(sessions)).toEqual([
      ['', 'out of order', '', 'out of order', 'beyond the plan'],
      ['before the plan, other loop', 'before the plan, other loop'],
    ]);
    expect(sessions[1]?.missing).toEqual(['b', 'a']);
    expect(sessions.flatMap((session) => session.runs)).toHaveLength(runs.length);
    expect(isAsPlanned(plan, sessions)).toBe(false);
  });

  it('is not as planned with a session too few or too many', () => {
    const driven = (days: number[]) =>
      drivenSessions(
        plan,
        days.flatMap((day) => dayOfRuns(day, 'abba', FOUR)),
      );
    expect(isAsPlanned(plan, driven([1]))).toBe(false);
    expect(isAsPlanned(plan, driven([1, 2, 3]))).toBe(false);
  });
});
