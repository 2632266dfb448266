import { tUpperQuantile } from '@/lib/numerics/distributions';

/** A run of a day for its drift: when it began, and ln of its consumption at reference conditions. */
export interface DriftRun {
  sessionId: string;
  setupId: string;
  startedAt: string;
  z: number;
}

export interface Drift<Run extends DriftRun> {
  /** Runs of a setup that was driven more than once that day, in order of time. */
  points: { run: Run; hours: number; off: number }[];
  /** ln of consumption an hour; null where the runs cannot tell. */
  perHour: number | null;
  /** 95 %; null without a degree of freedom. */
  interval: [number, number] | null;
}

const HOUR_MS = 3_600_000;

/**
 * What went on rising or falling through the days: runs as they lie off the mean of their own setup on their own day,
 * against the hours since the first run of that day, and the slope that all days share. Ordinary least squares with a
 * level for each setup of each day (the within or fixed-effects estimator; any textbook of linear models): both taken off
 * their group's mean, slope Σ hz/Σ h², its variance s²/Σ h² on runs − groups − 1 degrees of freedom.
 *
 * @param runs that count; a setup driven once a day has no mean to be off and says nothing here
 */
export function driftOf<Run extends DriftRun>(runs: readonly Run[]): Drift<Run> {
  const firsts = new Map<string, number>();
  for (const { sessionId, startedAt } of runs)
    firsts.set(sessionId, Math.min(firsts.get(sessionId) ?? Number.POSITIVE_INFINITY, Date.parse(startedAt)));
  const groups = new Map<string, Run[]>();
  for (const run of runs) {
    const key = `${run.sessionId} ${run.setupId}`;
    groups.set(key, [...(groups.get(key) ?? []), run]);
  }
  const hoursOf = (run: Run) => (Date.parse(run.startedAt) - (firsts.get(run.sessionId) as number)) / HOUR_MS;
  const points: Drift<Run>['points'] = [];
  let [products, squares, total, count] = [0, 0, 0, 0];
  for (const own of groups.values()) {
    if (own.length < 2) continue;
    count += 1;
    const meanHours = mean(own.map(hoursOf));
    const meanZ = mean(own.map(({ z }) => z));
    for (const run of own) {
      const [h, off] = [hoursOf(run) - meanHours, run.z - meanZ];
      points.push({ run, hours: hoursOf(run), off });
      products += h * off;
      squares += h * h;
      total += off * off;
    }
  }
  points.sort((a, b) => a.run.startedAt.localeCompare(b.run.startedAt));
  if (!(squares > 0)) return { points, perHour: null, interval: null };
  const perHour = products / squares;
  const df = points.length - count - 1;
  if (df < 1) return { points, perHour, interval: null };
  const left = Math.max(0, total - perHour * products);
  const half = tUpperQuantile(0.025, df) * Math.sqrt(left / df / squares);
  return { points, perHour, interval: [perHour - half, perHour + half] };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
