import type { BudgetEntry, NormalisationResult } from '@/lib/physics/normalise';
import type { Scope, SharedPart } from '@/lib/stats/scopes';

/** A run with what makes its inputs the same as another run's. */
export interface SharingRun {
  setupId: string;
  sessionId: string;
  carId: string;
  loopId: string;
  modelId: string;
  normalisation: NormalisationResult;
}

/** Scope `car` in the budget, but numbers of the loop: shared by all cars on it. */
const OF_THE_LOOP: ReadonlySet<string> = new Set(['distanceM', 'netClimbM', 'offCruiseShare']);

/**
 * Per setup the signed contributions c·u/e of its shared inputs to ln of its mean, over all of its runs: a run's part
 * counts 1/n, so that parts of one key add up and parts of different keys average out (JCGM 100:2008, 5.2).
 *
 * Without `scopes` those of car and model. What a session shares differs from one session to the next and so is in the
 * session variance that the fit estimates (method A6): beside the interval it would count twice.
 */
export function sharedPartsBySetup(
  runs: readonly SharingRun[],
  scopes: readonly Scope[] = ['car', 'model'],
): Map<string, SharedPart[]> {
  const bySetup = new Map<string, SharingRun[]>();
  for (const run of runs) {
    if (run.normalisation.outcome !== 'normalised') continue;
    const of = bySetup.get(run.setupId);
    if (of === undefined) bySetup.set(run.setupId, [run]);
    else of.push(run);
  }
  return new Map([...bySetup].map(([setupId, of]) => [setupId, meanParts(of, scopes)]));
}

function meanParts(runs: readonly SharingRun[], scopes: readonly Scope[]): SharedPart[] {
  const parts = new Map<string, SharedPart>();
  for (const run of runs) {
    const { normalisation } = run;
    if (normalisation.outcome !== 'normalised') continue;
    for (const entry of normalisation.budget) {
      const { scope, input } = entry;
      if (scope === 'run' || !scopes.includes(scope) || entry.contributionWhPerKm === 0) continue;
      const key = keyOf(run, input, scope);
      const contribution = signed(entry) / normalisation.normalisedWhPerKm / runs.length;
      const name = `${input} ${scope} ${key}`;
      const known = parts.get(name);
      if (known === undefined) parts.set(name, { input, scope, key, contribution });
      else known.contribution += contribution;
    }
  }
  return [...parts.values()];
}

function keyOf(run: SharingRun, input: string, scope: Scope): string {
  if (scope === 'session') return run.sessionId;
  if (scope === 'model') return run.modelId;
  return OF_THE_LOOP.has(input) ? run.loopId : run.carId;
}

function signed(entry: BudgetEntry): number {
  return entry.sensitivity < 0 ? -entry.contributionWhPerKm : entry.contributionWhPerKm;
}
