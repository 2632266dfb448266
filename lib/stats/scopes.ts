/**
 * Uncertainty that runs share. An input of a scope wider than the run is one random variable in every result that
 * shares its key, so it cancels in a difference as far as the two sensitivities agree:
 *   u²(difference) = Σ_key (c₁ − c₂)² u².  JCGM 100:2008, 5.2 with correlation 1 within a key.
 */
export type Scope = 'session' | 'car' | 'model' | 'method';

/** Signed contribution c·u to ln of a run's result from one input that other runs share. */
export interface SharedContribution {
  /** Names the random variable within its scope: equal keys are the same one. */
  key: string;
  scope: Scope;
  contribution: number;
}
