import { STANDARD_GRAVITY } from './atmosphere';
import { evaluateBudget } from './budget';
import { JOULE_PER_METRE_PER_WH_PER_KM } from './roadLoad';

/**
 * Mean wind along the route from the two legs of an out-and-back: with equal speed on both,
 *
 *   e_out − e_back = [2·ρ·CdA·v·h̄ + 4·m·g·Δh_leg/D]/η
 *
 * solved for the outbound headwind h̄ when the leg's climb is known (method A4; road load of SAE J1263 form). The
 * turnaround reading E_o enters both legs with opposite sign: for equal legs u(e_out − e_back)² = ((2u_o)² + u_t²)/(D/2)².
 */
export interface ReadingWithU {
  readonly value: number;
  readonly u: number;
}

export interface LegReadings {
  /** Display at the turnaround and at the finish. */
  readonly outboundEnergyWh: ReadingWithU;
  readonly tripEnergyWh: ReadingWithU;
  readonly outboundDistanceM: ReadingWithU;
  readonly tripDistanceM: ReadingWithU;
  /** True speed on both legs. */
  readonly speedMps: number;
  readonly airDensityKgM3: number;
  /** Climb from the start to the turnaround. */
  readonly legClimbM: number;
  readonly uLegClimbM: number;
  /** Of the whole loop, both legs. */
  readonly loopDistanceM: number;
  readonly massKg: number;
  readonly dragAreaM2: number;
  readonly uDragAreaM2: number;
  readonly drivetrainEfficiency: number;
  readonly uDrivetrainEfficiency: number;
}

export interface ImpliedHeadwind {
  /** Outbound; negative is a tailwind. */
  readonly impliedHeadwindMps: number;
  readonly uMps: number;
}

export function headwindFromLegs(legs: LegReadings): ImpliedHeadwind {
  const { loopDistanceM, massKg, speedMps, airDensityKgM3 } = legs;
  const budget = evaluateBudget(
    [
      { name: 'outboundEnergy', ...legs.outboundEnergyWh },
      { name: 'tripEnergy', ...legs.tripEnergyWh },
      { name: 'outboundDistance', ...legs.outboundDistanceM },
      { name: 'tripDistance', ...legs.tripDistanceM },
      { name: 'legClimb', value: legs.legClimbM, u: legs.uLegClimbM },
      { name: 'dragArea', value: legs.dragAreaM2, u: legs.uDragAreaM2 },
      { name: 'efficiency', value: legs.drivetrainEfficiency, u: legs.uDrivetrainEfficiency },
    ],
    (values) => {
      const [outWh = 0, tripWh = 0, outM = 1, tripM = 2, climb = 0, dragArea = 1, efficiency = 1] = values;
      const difference = 1000 * (outWh / outM - (tripWh - outWh) / (tripM - outM));
      const force = difference * JOULE_PER_METRE_PER_WH_PER_KM * efficiency;
      const climbing = (4 * massKg * STANDARD_GRAVITY * climb) / loopDistanceM;
      return (force - climbing) / (2 * airDensityKgM3 * dragArea * speedMps);
    },
  );
  return { impliedHeadwindMps: budget.value, uMps: budget.u };
}

export interface HeadwindComparison {
  readonly impliedHeadwindMps: number;
  readonly reportedHeadwindMps: number;
  /** Of their difference. */
  readonly standardUncertaintyMps: number;
  /** Difference over its standard uncertainty. */
  readonly standardisedDifference: number;
  readonly finding: string | null;
}

/** A difference beyond this many standard uncertainties is a finding. */
const FINDING_AT = 2;

export function compareHeadwind(
  implied: ImpliedHeadwind,
  reported: { readonly valueMps: number; readonly uMps: number },
): HeadwindComparison {
  const standardUncertaintyMps = Math.hypot(implied.uMps, reported.uMps);
  const difference = implied.impliedHeadwindMps - reported.valueMps;
  const standardisedDifference = difference / standardUncertaintyMps;
  return {
    impliedHeadwindMps: implied.impliedHeadwindMps,
    reportedHeadwindMps: reported.valueMps,
    standardUncertaintyMps,
    standardisedDifference,
    finding:
      Math.abs(standardisedDifference) <= FINDING_AT
        ? null
        : `The legs' energies imply ${inWords(implied.impliedHeadwindMps)} outbound where the report gives ${inWords(reported.valueMps)}: the wind at the road, the leg's climb or a turnaround reading differs from what was noted.`,
  };
}

function inWords(headwindMps: number): string {
  return `${Math.abs(headwindMps).toFixed(1)} m/s of ${headwindMps < 0 ? 'tailwind' : 'headwind'}`;
}
