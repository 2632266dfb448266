import type { SharedContribution } from './scopes';

/** One run as handed to a fit. */
export interface FitRow {
  runId?: string;
  setup: string;
  /** The setup's model; without it all setups count as one model. */
  model?: string;
  /** The physical car. */
  car: string;
  /** The loop driven; a car deviates a little differently on each. */
  loop?: string;
  /** The day of driving; unique within its car and loop. */
  session: string;
  /** Who drove; without one no difference is asked whether it rests on one tester. */
  tester?: string;
  /** ln of the normalised consumption in Wh/km. */
  z: number;
  /** Relative standard uncertainty of the run-scoped part (log scale). */
  u: number;
  /** What the run's result shares with others, by input (log scale). */
  shared?: readonly SharedContribution[];
}
