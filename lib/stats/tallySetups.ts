/** What stands behind a setup's estimate, counted. */
export interface SetupTally {
  testers: number;
  cars: number;
  loops: number;
  days: number;
  /** Mean of what was measured, before normalisation: shown only beside the estimate. */
  rawMeanWhPerKm: number;
}

export interface TalliedRun {
  setupId: string;
  testerId: string;
  carId: string;
  loopId: string;
  day: string;
  measuredWhPerKm: number;
}

export function tallySetups(runs: readonly TalliedRun[]): Map<string, SetupTally> {
  const bySetup = new Map<string, TalliedRun[]>();
  for (const run of runs) bySetup.set(run.setupId, [...(bySetup.get(run.setupId) ?? []), run]);
  const distinct = (of: TalliedRun[], key: (run: TalliedRun) => string) => new Set(of.map(key)).size;
  return new Map(
    [...bySetup].map(([setupId, of]) => [
      setupId,
      {
        testers: distinct(of, (run) => run.testerId),
        cars: distinct(of, (run) => run.carId),
        loops: distinct(of, (run) => run.loopId),
        days: distinct(of, (run) => run.day),
        rawMeanWhPerKm: of.reduce((sum, run) => sum + run.measuredWhPerKm, 0) / of.length,
      },
    ]),
  );
}
