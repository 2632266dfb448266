import type { Neighbourhood, RunNeighbour } from '@/lib/protocol/facts';
import type { NormalisationRow } from '@/lib/reduction/storedReduction';
import type { RunRecord } from '@/lib/run/runRecord';
import type { WorldKey } from '@/lib/run/world';
import { lastDigitsOf, testLastDigits, testSpread } from '@/lib/stats/plausibility';
import { onCurrentThings } from '@/lib/store/merging';
import {
  countedRunsOf,
  energiesAsTyped,
  type NeighbourRow,
  neighbourReadings,
  runVarianceOf,
} from '@/lib/store/neighbours';
import { shownLabel } from '../counted/countedLabel';
import type { Registry } from '../registry';

/** As far as a record is held against others. */
type HeldRecord = Pick<
  RunRecord,
  'carId' | 'setupId' | 'loopId' | 'cruiseClassKey' | 'startedAt' | 'localDate' | 'readings'
>;

/** A run as its neighbourhood is looked up. */
export interface RunToHold {
  runId: string;
  testerId: string;
  world: WorldKey;
  record: HeldRecord;
  /** ln(Wh/km) at reference conditions and the relative uncertainty of its own part; null where there is no number. */
  own: { z: number; u: number } | null;
  hasRecording: boolean;
  sentAt: Date;
}

/** A run's own number, as a fit takes it. */
export function ownPart({
  normalisedWhPerKm,
  uRunRelative,
}: Pick<NormalisationRow, 'normalisedWhPerKm' | 'uRunRelative'>): RunToHold['own'] {
  if (normalisedWhPerKm === null || uRunRelative === null) return null;
  return { z: Math.log(normalisedWhPerKm), u: uRunRelative };
}

/** How near an energy has to be for its run to be looked at: wider than any version's limit. */
const LOOKED_AT_SHARE = 0.02;

/** What the rules hold a run against, as of when it was sent in: a bounded list of runs, and two tests of its tester's. */
export async function neighbourhoodOf(registry: Registry, run: RunToHold): Promise<Neighbourhood> {
  const { record, testerId, runId, sentAt } = run;
  const startedAt = new Date(record.startedAt);
  const tripEnergyWh = record.readings.tripEnergy?.value ?? null;
  // The record may be of things that were merged since; the others' runs hang on those that stayed.
  const { carId, loopId, setupId } = record;
  const now = await onCurrentThings(registry.db, { carId, loopId, setupId });
  const [rows, typed, spreads] = await Promise.all([
    neighbourReadings(registry.db, { runId, testerId, startedAt, tripEnergyWh, sentAt }, LOOKED_AT_SHARE),
    energiesAsTyped(registry.db, { runId, testerId, sentAt }),
    spreadsOf(registry, run, now),
  ]);
  const own = (['tripEnergy', 'outboundEnergy', 'chargerEnergy'] as const).flatMap(
    (quantity) => record.readings[quantity]?.enteredText ?? [],
  );
  return {
    runs: neighboursFrom(rows, { testerId, ...now }),
    lastDigits: testLastDigits(lastDigitsOf([...own, ...typed])),
    ...spreads,
    hasRecording: run.hasRecording,
  };
}

function neighboursFrom(
  rows: readonly NeighbourRow[],
  own: { testerId: string; carId: string; loopId: string },
): RunNeighbour[] {
  const byRun = new Map<number, NeighbourRow[]>();
  for (const row of rows) byRun.set(row.runNumber, [...(byRun.get(row.runNumber) ?? []), row]);
  return [...byRun.values()].flatMap((readings) => {
    const [first] = readings;
    if (first === undefined) return [];
    return {
      runNumber: first.runNumber,
      isOwn: first.testerId === own.testerId,
      isSameCar: first.carId === own.carId,
      isSameLoop: first.loopId === own.loopId,
      startedAt: first.startedAt.toISOString(),
      durationS: readings.find(({ quantity }) => quantity === 'tripDuration')?.value ?? null,
      readings: Object.fromEntries(readings.map(({ quantity, value }) => [quantity, value])),
    };
  });
}

type Spreads = Pick<Neighbourhood, 'spread' | 'spreadOfSetup' | 'spreadOfCluster'>;

const NO_SPREADS: Spreads = { spread: null, spreadOfSetup: null, spreadOfCluster: null };

/**
 * Runs of the class within setups and days, this one among them, against what the class's fit expects: the tester's, all
 * of this setup, and those of all who count as one with the tester.
 */
async function spreadsOf(
  registry: Registry,
  { testerId, world, record, own, runId, sentAt }: RunToHold,
  now: { carId: string; loopId: string; setupId: string },
): Promise<Spreads> {
  if (own === null) return NO_SPREADS;
  const group = { cruiseClassKey: record.cruiseClassKey, world };
  const known = await runVarianceOf(registry.db, group);
  if (known === null) return NO_SPREADS;
  const others = known.clusters
    .find((names) => names.includes(testerId))
    ?.filter((name) => name !== testerId);
  const methodVersion = await shownLabel(registry.db, world);
  const countedOf = (by: { testerId: string | { in: string[] } } | { setupId: string }) =>
    countedRunsOf(registry.db, { ...group, ...by, methodVersion, runId, sentAt });
  const [mine, theirs, ofSetup] = await Promise.all([
    countedOf({ testerId }),
    others ? countedOf({ testerId: { in: others } }) : [],
    countedOf({ setupId: now.setupId }),
  ]);
  const itself = { ...now, day: record.localDate, ...own };
  const test = (rows: readonly CellRun[]) => testSpread(cellsOf([itself, ...rows]), known.v);
  return {
    spread: test(mine),
    spreadOfSetup: test(ofSetup),
    spreadOfCluster: theirs.length === 0 ? null : test([...mine, ...theirs]),
  };
}

type CellRun = Awaited<ReturnType<typeof countedRunsOf>>[number];

/** One car on one loop on one day in one setup. */
function cellsOf(rows: readonly CellRun[]): Iterable<{ z: number; u: number }[]> {
  const cells = new Map<string, { z: number; u: number }[]>();
  for (const { carId, loopId, day, setupId, z, u } of rows) {
    if (z === null || u === null) continue;
    const key = [carId, loopId, day, setupId].join();
    cells.set(key, [...(cells.get(key) ?? []), { z, u }]);
  }
  return cells.values();
}
