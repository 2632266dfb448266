import { airDensityCipm } from '@/lib/physics/air';
import { layOutCase } from '@/lib/physics/caseInputs';
import type { NormalisationCase } from '@/lib/physics/caseSchema';
import { indexOfInput } from '@/lib/physics/inputs';
import { compareHeadwind, headwindFromLegs } from '@/lib/physics/legAsymmetry';
import { VEHICLE_PRIORS } from '@/lib/physics/priors';
import { meanHeadwindMps } from '@/lib/physics/wind';
import type { QuantityReading } from '@/lib/run/runRecord';
import { routeBearings, windReport } from './normalisationCase';
import { rectangularU } from './readingUncertainty';
import type { ReductionSnapshot } from './snapshot';

export interface LegWind {
  impliedHeadwindMps: number;
  reportedHeadwindMps: number;
  standardUncertaintyMps: number;
}

/** A map's contour interval, as a standard uncertainty of a leg's climb: common practice, no source. */
const LEG_CLIMB_U_M = 5;

/**
 * The wind that the two legs' energies imply beside the one reported (method A4); null without turnaround readings of
 * energy and distance, or on a loop whose legs are not described.
 */
export function legWind(
  { record, loop, weather }: Pick<ReductionSnapshot, 'record' | 'loop' | 'weather'>,
  engineCase: NormalisationCase,
): LegWind | null {
  const { outboundEnergy, outboundDistance, tripDistance, tripEnergy } = record.readings;
  const outbound = loop.legs.find((leg) => leg.direction === 'outbound');
  if (!outboundEnergy || !outboundDistance || !tripDistance || !tripEnergy || !outbound) return null;
  const { run, vehicle } = engineCase;
  if (run.pressurePa === undefined || run.relativeHumidity === undefined) return null;
  const backDistanceM = tripDistance.value - outboundDistance.value;
  const backEnergyWh = tripEnergy.value - outboundEnergy.value;
  if (!(backDistanceM > 0) || !(backEnergyWh > 0)) return null;
  // as the engine itself takes it: the car's own, its model's, or the prior
  const { x, u } = layOutCase(engineCase);
  const [drag, change] = [indexOfInput('dragAreaM2'), indexOfInput('dragOfSetup')];
  const ratio = x[change] as number;
  const implied = headwindFromLegs({
    outboundEnergyWh: withU(outboundEnergy),
    tripEnergyWh: withU(tripEnergy),
    outboundDistanceM: withU(outboundDistance),
    tripDistanceM: withU(tripDistance),
    speedMps: run.cruiseSpeedMps,
    airDensityKgM3: airDensityCipm(run.airTemperatureC, run.pressurePa, run.relativeHumidity),
    legClimbM: outbound.netClimbM,
    uLegClimbM: LEG_CLIMB_U_M,
    loopDistanceM: loop.lengthM,
    massKg: vehicle.massKg,
    dragAreaM2: (x[drag] as number) * ratio,
    uDragAreaM2: Math.hypot((u[drag] as number) * ratio, (x[drag] as number) * (u[change] as number)),
    drivetrainEfficiency: vehicle.drivetrainEfficiency ?? VEHICLE_PRIORS.efficiency.value,
    uDrivetrainEfficiency: VEHICLE_PRIORS.efficiency.u,
  });
  const bearings = routeBearings(outbound.bearings, outbound.lengthM);
  const { impliedHeadwindMps, reportedHeadwindMps, standardUncertaintyMps } = compareHeadwind(
    implied,
    meanHeadwindMps(windReport(record, weather), bearings),
  );
  return { impliedHeadwindMps, reportedHeadwindMps, standardUncertaintyMps };
}

function withU(reading: QuantityReading) {
  return { value: reading.value, u: rectangularU(reading) };
}
