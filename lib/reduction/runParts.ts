import type { ConsumptionAt } from '@/lib/physics/estimate/consumptionAt';
import type { BudgetEntry, NormalisationResult, NormalisedRun } from '@/lib/physics/normalise';

/** One input's part in a result, and what it is the same number in. */
export interface RunPart {
  input: string;
  scope: 'session' | 'car' | 'model' | 'method';
  /** Which session, car, loop, setup or model: equal keys are the same random variable. */
  key: string;
  /** Signed contribution c·u to ln of the result. */
  contribution: number;
}

/** What a run has in common with others. */
export interface RunOwners {
  sessionId: string;
  carId: string;
  loopId: string;
  modelId: string;
  setupId: string;
}

/** Taken at another value, from another source or for other tyres, these are another quantity with an error of its own. */
const BY_VALUE: ReadonlySet<string> = new Set(['dragAreaM2', 'rollingCoefficient']);
/** Of a changed setup over the learned one: an error of each setup's own, shared by its cars. */
const OF_THE_SETUP: ReadonlySet<string> = new Set(['dragOfSetup', 'rollingOfSetup']);
/** Scope `car` in the budget, but numbers of the loop: shared by all cars on it. */
const OF_THE_LOOP: ReadonlySet<string> = new Set(['distanceM', 'netClimbM', 'offCruiseShare']);

/**
 * The signed contributions c·u/e of a run's shared inputs to ln of its result (JCGM 100:2008, 5.2), largest first; the
 * run's own part, which the fit takes with the run, is not among them. Empty for a run outside the method's reach.
 */
export function runParts(owners: RunOwners, result: NormalisationResult): RunPart[] {
  if (result.outcome !== 'normalised') return [];
  return partsOf(owners, result, result.normalisedWhPerKm, false);
}

/** The parts as a fit takes them: equal keys are the same random variable. */
export function sharedContributions(parts: readonly RunPart[]): Omit<RunPart, 'input'>[] {
  return parts.map(({ input, key, scope, contribution }) => ({
    key: `${input} of ${key}`,
    scope,
    contribution,
  }));
}

/**
 * The signed contributions c·u/e of what is uncertain under a reader's conditions to ln of the consumption there, keyed
 * as in the runs, so that one random variable is one in both. What is a single run's is the trip's, if one trip is meant.
 *
 * @param owners the model and setup asked about; the reader's own car, day and road under names of their own
 */
export function readerParts(owners: RunOwners, at: ConsumptionAt, oneTrip: boolean): RunPart[] {
  return partsOf(owners, at, at.valueWhPerKm, oneTrip);
}

function partsOf(
  owners: RunOwners,
  result: Pick<NormalisedRun, 'budget' | 'correlations'>,
  valueWhPerKm: number,
  withOwn: boolean,
): RunPart[] {
  const contributions = independentContributions(result);
  return result.budget.flatMap((entry): RunPart[] => {
    const { scope, input } = entry;
    const contribution = (contributions.get(input) ?? 0) / valueWhPerKm;
    if (contribution === 0 || (scope === 'run' && !withOwn)) return [];
    if (scope === 'run')
      return [{ input, scope: 'session', key: `trip of ${owners.sessionId}`, contribution }];
    return [{ input, scope, key: keyOf(owners, entry, scope), contribution }];
  });
}

function keyOf(owners: RunOwners, { input, value }: BudgetEntry, scope: RunPart['scope']): string {
  if (scope === 'session') return owners.sessionId;
  // one value for all models
  if (scope === 'method') return 'method';
  if (OF_THE_SETUP.has(input)) return owners.setupId;
  const owner = scope === 'model' ? owners.modelId : OF_THE_LOOP.has(input) ? owners.loopId : owners.carId;
  return BY_VALUE.has(input) ? `${owner} at ${value}` : owner;
}

/**
 * Signed contributions by input. Of two inputs with a stated correlation ρ the second is written as ρ times the first
 * and a part independent of it (Cholesky factor of their correlation), so that parts still add up in squares.
 */
function independentContributions({
  budget,
  correlations = [],
}: Pick<NormalisedRun, 'budget' | 'correlations'>): Map<string, number> {
  const contributions = new Map<string, number>(budget.map((entry) => [entry.input, signed(entry)]));
  for (const {
    inputs: [first, second],
    coefficient,
  } of correlations) {
    const [a, b] = [contributions.get(first) ?? 0, contributions.get(second) ?? 0];
    contributions.set(first, a + coefficient * b);
    contributions.set(second, Math.sqrt(1 - coefficient ** 2) * b);
  }
  return contributions;
}

function signed(entry: BudgetEntry): number {
  return entry.sensitivity < 0 ? -entry.contributionWhPerKm : entry.contributionWhPerKm;
}
