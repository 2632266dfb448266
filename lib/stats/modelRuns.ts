import type { Observation } from './structure';

/** An approved, normalised run as the views that judge runs by the fit's model read it. */
export interface ModelRun {
  number: number;
  setupId: string;
  carId: string;
  loopId: string | null;
  sessionId: string;
  normalisedWhPerKm: number;
  /** Relative standard uncertainty of the part that is the run's own. */
  uRunRelative: number;
}

/** A car on one loop, as the pages group its runs. */
export function carOnLoop(carId: string, loopId: string | null): string {
  return loopId === null ? carId : `${carId} ${loopId}`;
}

/** The run as the fit sees it, on the log scale. */
export function observationOf(run: Omit<ModelRun, 'number'>): Observation {
  return {
    setup: run.setupId,
    car: run.carId,
    ...(run.loopId === null ? {} : { loop: run.loopId }),
    session: run.sessionId,
    z: Math.log(run.normalisedWhPerKm),
    u: run.uRunRelative,
  };
}
