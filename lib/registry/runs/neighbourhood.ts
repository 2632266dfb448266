import type { Neighbourhood, RunNeighbour } from '@/lib/protocol/facts';
import type { NormalisationRow } from '@/lib/reduction/storedReduction';
import type { RunRecord } from '@/lib/run/runRecord';
import type { WorldKey } from '@/lib/run/world';
import { lastDigitsOf, testLastDigits, testSpread } from '@/lib/stats/plausibility';
import { onCurrentThings } from '@/lib/store/merging';
import {
  energiesAsTyped,
  type NeighbourRow,
  neighbourReadings,
  ownCountedRuns,
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
  const [now, rows, typed, spread] = await Promise.all([
    onCurrentThings(registry.db, { carId: record.carId, loopId: record.loopId }),
    neighbourReadings(registry.db, { runId, testerId, startedAt, tripEnergyWh, sentAt }, LOOKED_AT_SHARE),
    energiesAsTyped(registry.db, { runId, testerId, sentAt }),
    spreadOf(registry, run),
  ]);
  const own = (['tripEnergy', 'outboundEnergy', 'chargerEnergy'] as const).flatMap(
    (quantity) => record.readings[quantity]?.enteredText ?? [],
  );
  return {
    runs: neighboursFrom(rows, { testerId, ...now }),
    lastDigits: testLastDigits(lastDigitsOf([...own, ...typed])),
    spread,
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

/** The tester's runs of the class within setups and days, this one among them, against what the class's fit expects. */
async function spreadOf(
  registry: Registry,
  { testerId, world, record, own, runId, sentAt }: RunToHold,
): Promise<Neighbourhood['spread']> {
  if (own === null) return null;
  const group = { cruiseClassKey: record.cruiseClassKey, world };
  const v = await runVarianceOf(registry.db, group);
  if (v === null) return null;
  const methodVersion = await shownLabel(registry.db, world);
  const rows = await ownCountedRuns(registry.db, { ...group, methodVersion, testerId, runId, sentAt });
  const cells = new Map<string, { z: number; u: number }[]>();
  const put = (key: string, run: { z: number; u: number }) =>
    cells.set(key, [...(cells.get(key) ?? []), run]);
  put([record.carId, record.loopId, record.localDate, record.setupId].join(), own);
  for (const { carId, loopId, day, setupId, z, u } of rows)
    if (z !== null && u !== null)
      put([carId, loopId, day.toISOString().slice(0, 10), setupId].join(), { z, u });
  return testSpread(cells.values(), v);
}
