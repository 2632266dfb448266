import type { NormalisationCase } from '@/lib/physics/caseSchema';

/** An everyday run near reference conditions: 100 km at 110 km/h on a mild day with some wind. */
export function exampleCase(): NormalisationCase {
  return {
    vehicle: {
      massKg: 2000,
      dragAreaM2: 0.6,
      rollingCoefficient: 0.009,
      drivetrainEfficiency: 0.9,
      yawDragPerRad2: 3,
    },
    run: {
      distanceM: 100_000,
      energyWh: 17_000,
      durationS: 3372,
      cruiseSpeedMps: 110 / 3.6,
      offCruiseShare: 0.05,
      airTemperatureC: 12,
      pressurePa: 99_500,
      relativeHumidity: 0.7,
      alongWindMps: 2,
      crossWindMps: 1.5,
      netClimbM: 5,
      auxiliaryPowerW: 700,
      stops: 1,
      conditions: { precipitation: 'none', roadSurface: 'dry', traffic: 'free' },
    },
    reference: { cruiseSpeedMps: 110 / 3.6 },
  };
}
