import { type CombinedEffect, combineEffects } from './metaAnalysis';

/** A run, or the weighted mean of several of one setup and session, with the levels of its setup's factors. */
export interface FactorRun {
  car: string;
  session: string;
  z: number;
  /** Of z within its session: v + u² of a run, 1/Σw of several, w = 1/(v + u²) each. */
  variance: number;
  /** What it shares with others of its car and day, by input: mean contribution, log scale. */
  shared?: Readonly<Record<string, number>>;
  runs: number;
  /** Level of every factor, as { 'ride height': 'low', tyres: 'summer' }. */
  levels: Readonly<Record<string, string>>;
}

/** The same-session difference between two levels of a factor with everything else alike. */
export interface SessionDifference {
  car: string;
  session: string;
  /** The other factors' levels, which were the same on both sides. */
  context: string;
  /** mean(level) − mean(baseline), log scale. */
  difference: number;
  variance: number;
  runsBaseline: number;
  runsLevel: number;
}

export interface FactorEffect {
  baseline: string;
  level: string;
  sessions: number;
  cars: number;
  differences: SessionDifference[];
  combined: CombinedEffect | null;
}

/**
 * The effect of one factor across all sessions in which it moved and nothing else did. Session and car cancel
 * inside each difference but for what their inputs did unequally to the two sides: one draw of an input moves both, so
 * that (c₁ − c₂)² of each is left (JCGM 100:2008, 5.2). The differences are combined allowing the effect itself to vary (metaAnalysis.ts).
 */
export function factorEffects(
  runs: readonly FactorRun[],
  factorName: string,
  baseline: string,
  level = 0.95,
): FactorEffect[] {
  const strata = new Map<string, FactorRun[]>();
  for (const run of runs) {
    if (run.levels[factorName] === undefined) continue;
    const key = JSON.stringify([run.car, run.session, contextOf(run, factorName)]);
    const own = strata.get(key);
    if (own === undefined) strata.set(key, [run]);
    else own.push(run);
  }
  const byLevel = new Map<string, SessionDifference[]>();
  for (const own of strata.values()) {
    const reference = weigh(own, factorName, baseline);
    if (reference === null) continue;
    const others = new Set(own.map((run) => run.levels[factorName] as string));
    for (const other of others) {
      if (other === baseline) continue;
      const side = weigh(own, factorName, other);
      if (side === null) continue;
      const first = own[0] as FactorRun;
      const found = byLevel.get(other) ?? [];
      found.push({
        car: first.car,
        session: first.session,
        context: contextOf(first, factorName),
        difference: side.mean - reference.mean,
        variance: side.variance + reference.variance + unequal(side.shared, reference.shared),
        runsBaseline: reference.runs,
        runsLevel: side.runs,
      });
      byLevel.set(other, found);
    }
  }
  return [...byLevel]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, differences]) => ({
      baseline,
      level: name,
      sessions: new Set(differences.map((d) => `${d.car}\u0000${d.session}`)).size,
      cars: new Set(differences.map((d) => d.car)).size,
      differences,
      combined: combineEffects(
        differences.map((d) => ({ y: d.difference, variance: d.variance })),
        level,
      ),
    }));
}

function contextOf(run: FactorRun, factorName: string): string {
  return Object.entries(run.levels)
    .filter(([name]) => name !== factorName)
    .map(([name, value]) => `${name}: ${value}`)
    .sort()
    .join(', ');
}

/** Weighted mean of a stratum's runs at one level and its variance 1/Σw. */
function weigh(
  runs: readonly FactorRun[],
  factorName: string,
  level: string,
): { mean: number; variance: number; shared: Map<string, number>; runs: number } | null {
  const own = runs.filter((run) => run.levels[factorName] === level);
  if (own.length === 0) return null;
  let total = 0;
  let sum = 0;
  let count = 0;
  const shared = new Map<string, number>();
  for (const run of own) {
    const w = 1 / run.variance;
    count += run.runs;
    total += w;
    sum += w * run.z;
    for (const [key, part] of Object.entries(run.shared ?? {}))
      shared.set(key, (shared.get(key) ?? 0) + w * part);
  }
  for (const [key, weighted] of shared) shared.set(key, weighted / total);
  return { mean: sum / total, variance: 1 / total, shared, runs: count };
}

function unequal(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let variance = 0;
  for (const key of new Set([...a.keys(), ...b.keys()]))
    variance += ((a.get(key) ?? 0) - (b.get(key) ?? 0)) ** 2;
  return variance;
}
