import type { Neighbourhood, RunFacts, RunNeighbour } from '@/lib/protocol/facts';
import type { RunQuantity } from '@/lib/run/fields/table';
import { exactReading, GOOD_RUN, withReading } from './exampleFacts';

/** The good run with what else its display shows, so that a copy of its drive can be told. */
export const FULL_RUN: RunFacts = [
  exactReading('outboundEnergy', 11_250, 'kWh'),
  exactReading('outboundDistance', 53_450, 'km'),
  exactReading('tripMeanSpeed', 28.7, 'km/h'),
].reduce((run, reading) => withReading(reading.quantity as RunQuantity, reading, run), GOOD_RUN);

type Values = Partial<Record<RunQuantity, number>>;

/** Its readings, each by what `change` makes of it. */
export function readingsOf(
  change: (value: number, quantity: RunQuantity) => number = (value) => value,
): Values {
  return Object.fromEntries(
    Object.entries(FULL_RUN.record.readings).map(([quantity, own]) => [
      quantity,
      change(own?.value ?? 0, quantity as RunQuantity),
    ]),
  );
}

/** A run of another tester on another loop a year before, with nothing in common. */
export function neighbour(own: Partial<RunNeighbour> = {}): RunNeighbour {
  return {
    runNumber: 12,
    isOwn: false,
    isSameCar: false,
    isSameLoop: false,
    startedAt: '2030-05-04T09:30:00Z',
    durationS: 3720,
    readings: readingsOf((value) => 1.1 * value + 1),
    ...own,
  };
}

export const among = (...runs: RunNeighbour[]): RunFacts => around({ runs });

export function around(change: Partial<Neighbourhood>): RunFacts {
  return { ...FULL_RUN, neighbourhood: { ...(GOOD_RUN.neighbourhood as Neighbourhood), ...change } };
}

/** Under way from so many minutes after the run's own start. */
export const startedAfter = (minutes: number, own: Partial<RunNeighbour> = {}) =>
  neighbour({
    startedAt: new Date(Date.parse(FULL_RUN.record.startedAt) + 60_000 * minutes).toISOString(),
    isOwn: true,
    ...own,
  });

/** One run each in which a rule of this kind ends otherwise. */
export const NEIGHBOURHOODS: readonly RunFacts[] = [
  among(neighbour({ readings: readingsOf() })),
  among(neighbour({ readings: readingsOf(), isOwn: true })),
  among(neighbour({ readings: readingsOf((value) => 1.001 * value) })),
  among(startedAfter(20)),
  among(startedAfter(20, { isSameCar: true })),
  around({ lastDigits: { readings: 60, pValue: 1e-6 } }),
  around({ lastDigits: { readings: 20, pValue: 1e-6 } }),
  around({ spread: { runs: 9, dof: 6, ratio: 0.01, pValue: 1e-6 } }),
  around({ spread: { runs: 3, dof: 2, ratio: 0.01, pValue: 1e-6 } }),
  around({ spreadOfSetup: { runs: 9, dof: 6, ratio: 0.01, pValue: 1e-6 } }),
  around({ spreadOfSetup: null }),
  around({ spreadOfCluster: { runs: 9, dof: 6, ratio: 0.01, pValue: 1e-6 } }),
  around({ spreadOfCluster: null }),
  { ...around({ hasRecording: false }), photoTimes: [] },
];
