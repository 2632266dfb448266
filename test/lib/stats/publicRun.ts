import type { PublicRun } from '@/lib/registry/runs/publicRuns';

/** A public run of which only what a test is about needs saying. */
export function publicRun(given: Partial<PublicRun>): PublicRun {
  return {
    number: 1,
    date: '2026-05-01',
    classKey: 'kmh-110',
    classLabel: '110 km/h',
    setupId: 'base',
    setupTitle: 'As delivered',
    setupSlug: 'base',
    model: 'Tarn Works Skerry 2025',
    modelSlug: 'skerry',
    carId: 'car',
    sessionId: 'session',
    testerName: 'Mira Holm',
    testerSlug: 'mira-holm',
    loopId: 'loop',
    loopName: 'North causeway',
    loopSlug: 'north-causeway',
    measuredWhPerKm: 200,
    normalisedWhPerKm: 200,
    uWhPerKm: 2,
    uRunRelative: 0.005,
    world: 'record',
    ...given,
  };
}
