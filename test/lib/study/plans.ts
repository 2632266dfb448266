import type { StudyPlan } from '@/lib/study/plan';
import type { CountedStudyRun } from '@/lib/study/standing';

/** A plan of two setups, A B B A on each of so many days. */
export function planOf(days: number, changes: Partial<StudyPlan> = {}): StudyPlan {
  return {
    question: 'Does the low ride height use less?',
    cruiseClassKey: 'kmh-110',
    loopId: 'loop',
    baselineId: 'a',
    setupIds: ['b'],
    contrasts: [{ setupId: 'b', factor: 'rideHeight' }],
    wantedPercent: 2,
    power: 0.8,
    runsADay: 4,
    seed: 5,
    orderKind: 'A B B A',
    days: Array.from({ length: days }, () => ['a', 'b', 'b', 'a']),
    calendar: null,
    betweenRunsMin: 15,
    pricePerKwh: null,
    expected: {
      runVariance: 1e-4,
      isAssumed: false,
      power: 0.8,
      detectablePercent: 2,
      daysNeeded: days,
      hours: 10,
      energyWh: null,
      chargingStops: null,
      cost: null,
    },
    ...changes,
  };
}

/** The runs of one day in driving order, with ln consumption about 5. */
export function dayOfRuns(
  day: number,
  order: string,
  zs: readonly number[],
  changes: Partial<CountedStudyRun> = {},
): CountedStudyRun[] {
  const date = `2026-10-${String(day).padStart(2, '0')}`;
  return [...order].map((setupId, i) => ({
    number: 10 * day + i,
    setupId,
    loopId: 'loop',
    cruiseClassKey: 'kmh-110',
    sessionId: `s${day}`,
    startedAt: `${date}T${String(8 + i).padStart(2, '0')}:00:00Z`,
    isBeforePlan: false,
    z: 5 + (zs[i] as number),
    u: 0.003,
    countedAt: `${date}T20:00:00Z`,
    carId: 'car',
    testerId: 'tester',
    day: date,
    ...changes,
  }));
}
