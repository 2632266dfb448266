import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { monteCarloRun } from '@/lib/physics/monteCarlo';
import { normaliseRun } from '@/lib/physics/normalise';

/** Runs normalised per second with their full budget on one core, and the time of one Monte Carlo of 10 000 draws. */
const TARGET_RUNS_PER_SECOND = 50_000;
const TARGET_MONTE_CARLO_MS = 30;

function sampleCase(i: number): NormalisationCase {
  const cruiseSpeedMps = 29.5 + (i % 20) / 10;
  return {
    vehicle: {
      massKg: 1900 + (i % 50),
      dragAreaM2: 0.6,
      rollingCoefficient: 0.009,
      drivetrainEfficiency: 0.9,
      yawDragPerRad2: 3,
    },
    run: {
      distanceM: 107_000,
      energyWh: 18_500 + (i % 300),
      durationS: 107_000 / (cruiseSpeedMps * 0.97),
      cruiseSpeedMps,
      offCruiseShare: 0.05,
      airTemperatureC: 5 + (i % 25),
      pressurePa: 100_400,
      relativeHumidity: 0.6,
      alongWindMps: 2,
      crossWindMps: 1.5,
      netClimbM: 3,
      auxiliaryPowerW: 600,
      stops: 2,
    },
    reference: { cruiseSpeedMps: 110 / 3.6 },
  };
}

export async function bench(): Promise<void> {
  const cases = Array.from({ length: 1000 }, (_, i) => sampleCase(i));
  const pass = (): number => {
    let sum = 0;
    for (const input of cases) {
      const result = normaliseRun(input);
      if (result.outcome === 'normalised') sum += result.uWhPerKm;
    }
    return sum;
  };
  for (let i = 0; i < 20; i++) pass();
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 10; round++) {
    const start = performance.now();
    for (let i = 0; i < 10; i++) pass();
    best = Math.min(best, performance.now() - start);
  }
  const perSecond = (cases.length * 10) / (best / 1000);
  console.log(
    `normalise: ${Math.round(perSecond)} runs/s with budget (target ${TARGET_RUNS_PER_SECOND}): ${perSecond >= TARGET_RUNS_PER_SECOND ? 'met' : 'missed'}`,
  );

  let bestDraws = Number.POSITIVE_INFINITY;
  for (let round = 0; round < 20; round++) {
    const start = performance.now();
    monteCarloRun(cases[round] as NormalisationCase, { seed: round, draws: 10_000 });
    bestDraws = Math.min(bestDraws, performance.now() - start);
  }
  console.log(
    `normalise: ${bestDraws.toFixed(1)} ms for a Monte Carlo of 10 000 draws (target ${TARGET_MONTE_CARLO_MS}): ${bestDraws < TARGET_MONTE_CARLO_MS ? 'met' : 'missed'}`,
  );
}
