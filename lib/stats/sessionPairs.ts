/** A session in which both setups were driven: car, loop, day and weather were common to both sides. */
export interface SessionPair {
  sessionId: string;
  date: string;
  loopName: string;
  testerName: string;
  baseline: PairSide;
  setup: PairSide;
  /** The setup against the baseline by normalised numbers, %. */
  normalisedPercent: number;
  /** The same by the numbers as measured. */
  rawPercent: number;
}

export interface PairSide {
  runNumbers: number[];
  /** Geometric mean of the session's runs, as the fit takes them. */
  normalisedWhPerKm: number;
  measuredWhPerKm: number;
}

interface PairedRun {
  number: number;
  date: string;
  setupId: string;
  sessionId: string;
  loopName: string;
  testerName: string;
  normalisedWhPerKm: number | null;
  measuredWhPerKm: number | null;
}

/** The pairs behind a difference, the earliest first; runs without a normalised number take no part. */
export function sessionPairs(runs: readonly PairedRun[], baselineId: string, setupId: string): SessionPair[] {
  const bySession = new Map<string, PairedRun[]>();
  for (const run of runs) {
    if (run.setupId !== baselineId && run.setupId !== setupId) continue;
    bySession.set(run.sessionId, [...(bySession.get(run.sessionId) ?? []), run]);
  }
  const pairs = [...bySession].flatMap(([sessionId, own]): SessionPair[] => {
    const baseline = sideOf(own.filter((run) => run.setupId === baselineId));
    const setup = sideOf(own.filter((run) => run.setupId === setupId));
    const [first] = own;
    if (baseline === undefined || setup === undefined || first === undefined) return [];
    return [
      {
        sessionId,
        date: first.date,
        loopName: first.loopName,
        testerName: first.testerName,
        baseline,
        setup,
        normalisedPercent: 100 * (setup.normalisedWhPerKm / baseline.normalisedWhPerKm - 1),
        rawPercent: 100 * (setup.measuredWhPerKm / baseline.measuredWhPerKm - 1),
      },
    ];
  });
  return pairs.sort((a, b) => a.date.localeCompare(b.date) || a.sessionId.localeCompare(b.sessionId));
}

function sideOf(runs: readonly PairedRun[]): PairSide | undefined {
  const used = runs.flatMap(({ number, normalisedWhPerKm, measuredWhPerKm }) =>
    normalisedWhPerKm === null || measuredWhPerKm === null
      ? []
      : [{ number, normalisedWhPerKm, measuredWhPerKm }],
  );
  if (used.length === 0) return undefined;
  return {
    runNumbers: used.map((run) => run.number).sort((a, b) => a - b),
    normalisedWhPerKm: geometricMean(used.map((run) => run.normalisedWhPerKm)),
    measuredWhPerKm: geometricMean(used.map((run) => run.measuredWhPerKm)),
  };
}

function geometricMean(values: readonly number[]): number {
  return Math.exp(values.reduce((sum, value) => sum + Math.log(value), 0) / values.length);
}
