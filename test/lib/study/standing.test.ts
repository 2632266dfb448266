import { describe, expect, it } from 'vitest';
import { runLevelHalfWidth } from '@/lib/stats/monitoring';
import { type StandingAsked, standingOf } from '@/lib/study/standing';
import { readPlan } from '@/lib/study/stored';
import { dayOfRuns, planOf } from './plans';

const asked: StandingAsked = {
  plan: planOf(3),
  state: 'running',
  versions: 1,
  runs: [
    ...dayOfRuns(1, 'abba', [0, -0.02, -0.018, 0.004]),
    ...dayOfRuns(2, 'abba', [0.05, 0.028, 0.03, 0.048]),
    ...dayOfRuns(3, 'abba', [-0.03, -0.049, -0.055, -0.031]),
  ],
  unexplainedVariance: 0.008 ** 2,
};
const only = (standing: ReturnType<typeof standingOf>) => {
  const [contrast] = standing.contrasts;
  if (contrast === undefined) throw new Error('no contrast');
  return contrast;
};

describe('where a study stands', () => {
  it('says after each session what all until then say', () => {
    const contrast = only(standingOf(asked));
    expect(contrast.looks.map(({ sessionId }) => sessionId)).toEqual(['s1', 's2', 's3']);
    const before = only(standingOf({ ...asked, runs: asked.runs.slice(0, 8) }));
    expect(contrast.looks.slice(0, 2)).toEqual(before.looks);
    expect(contrast.running).toEqual(contrast.looks.at(-1)?.bound);
    // mean of −0.021, −0.02 and −0.0215, by hand
    expect(contrast.running?.difference).toBeCloseTo(-0.0208333333, 9);
    expect([contrast.sessions, contrast.lower, contrast.runs, contrast.testers]).toEqual([3, 3, 12, 1]);
  });

  it('has the width of the bound on runs with the class’s spread lent', () => {
    // one session, by hand: a 5, 5.004; b 4.98, 4.982
    const one = only(standingOf({ ...asked, runs: asked.runs.slice(0, 4) }));
    const squares = 2 * 0.002 ** 2 + 2 * 0.001 ** 2;
    const width = runLevelHalfWidth({ information: 1, df: 2, squares }, 0.05, {
      d0: 4,
      s0Squared: 0.008 ** 2 + 0.003 ** 2,
    });
    expect(one.running?.interval?.[1]).toBeCloseTo(-0.021 + (width as number), 12);
  });

  it('draws the history in the order of approval', () => {
    const late = asked.runs.map((run) =>
      run.sessionId === 's1' ? { ...run, countedAt: '2026-10-09T00:00:00Z' } : run,
    );
    const contrast = only(standingOf({ ...asked, runs: late }));
    expect(contrast.looks.map(({ sessionId }) => sessionId)).toEqual(['s2', 's3', 's1']);
    const { interval } = only(standingOf(asked)).running as { interval: [number, number] };
    expect(contrast.running?.interval?.[0]).toBeCloseTo(interval[0], 12);
  });

  it('shows the planned interval at the end alone, and only where the plan stood', () => {
    const complete = standingOf({ ...asked, state: 'complete' });
    expect(complete.which).toBe('planned');
    const contrast = only(complete);
    const width = ([low, high]: [number, number]) => high - low;
    expect(width(contrast.planned?.interval as [number, number])).toBeLessThan(
      width(contrast.running?.interval as [number, number]),
    );
    expect(contrast.shown).toEqual(contrast.planned);
    for (const left of [
      asked,
      { ...asked, state: 'abandoned' },
      { ...asked, state: 'complete', versions: 2 },
      { ...asked, state: 'complete', runs: asked.runs.slice(0, 11) },
      { ...asked, state: 'complete', runs: [...asked.runs, ...dayOfRuns(4, 'ab', [0, 0])] },
    ] as StandingAsked[]) {
      const standing = standingOf(left);
      expect(standing.which).toBe('running');
      expect(only(standing).planned).toBeNull();
      expect(only(standing).shown).toEqual(only(standing).running);
      expect(standing.why).not.toBe(complete.why);
    }
  });

  it('divides the chance of being wrong over the contrasts that the plan names', () => {
    const plan = planOf(3, {
      setupIds: ['b', 'c'],
      contrasts: [
        { setupId: 'b', factor: 'rideHeight' },
        { setupId: 'c', factor: 'rideHeight' },
      ],
    });
    const two = standingOf({ ...asked, plan });
    expect(two.alpha).toBe(0.025);
    const widthOf = ({ running }: (typeof two.contrasts)[number]) => {
      const [low, high] = running?.interval ?? [0, 0];
      return high - low;
    };
    expect(widthOf(only(two))).toBeGreaterThan(widthOf(only(standingOf(asked))));
    expect(two.contrasts[1]?.shown).toBeNull();
  });

  it('says how many days more would do, and none where it shows already', () => {
    const day = asked.runs.slice(0, 4);
    const small = day.map((run) => ({ ...run, z: run.setupId === 'b' ? run.z + 0.012 : run.z }));
    const { moreDays, running } = only(standingOf({ ...asked, runs: small }));
    expect(running?.interval?.[1]).toBeGreaterThan(0);
    expect(moreDays).toBeGreaterThan(0);
    const none = small.map((run) => ({ ...run, z: run.setupId === 'b' ? run.z + 0.01 : run.z }));
    expect(only(standingOf({ ...asked, runs: none })).moreDays).toBeNull();
  });
});

describe('a stored plan', () => {
  it('is read whole or not at all', () => {
    const plan = planOf(2, { calendar: { firstDay: '2026-12-01', everyDays: 7 } });
    expect(readPlan(JSON.parse(JSON.stringify(plan)))).toEqual(plan);
    expect(readPlan({ ...plan, days: [] })).toBeUndefined();
    expect(readPlan(null)).toBeUndefined();
    expect(readPlan({ ...plan, calendar: { firstDay: 'soon', everyDays: 1 } })).toBeUndefined();
  });
});
