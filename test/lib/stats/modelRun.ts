import type { ModelRun } from '@/lib/stats/modelRuns';

/** A run of which only what a test is about needs saying; `z` is the logarithm of its consumption. */
export function modelRun({ z = Math.log(200), ...given }: Partial<ModelRun> & { z?: number }): ModelRun {
  return {
    number: 1,
    setupId: 'base',
    carId: 'car',
    loopId: 'loop',
    sessionId: 'session',
    normalisedWhPerKm: Math.exp(z),
    uRunRelative: 0,
    ...given,
  };
}
