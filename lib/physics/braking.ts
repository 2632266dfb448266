/**
 * What braking costs. While a car slows down its own kinetic energy pays its road load, which M2 and rolling already
 * hold; only what is left of it is braked, and of that recuperation returns a share:
 *
 *   S·D = (1 − η·ε)·Σ max(0, ½·m_e·(v_hi² − v_lo²) − F̄·Δs),  m_e = 1.03·m,
 *   F̄ = ½ρ·CdA·(v_hi² + v_lo²)/2 + rolling + grade
 *
 * (method A3: energy balance of a decelerating vehicle; equation of motion as in SAE J1263 and UN GTR No. 15, Annex 4).
 */

/** Rotating parts add about 3 % to the mass in a change of speed (UN GTR No. 15, Annex 4: m_r = 3 % of mass). */
export const ROTATING_MASS_FACTOR = 1.03;

export interface BrakingFall {
  readonly fromMps: number;
  readonly toMps: number;
  /** Driven meanwhile; unknown for those that a tester counted. */
  readonly distanceM?: number | undefined;
  /** How often; once unless given. */
  readonly count?: number | undefined;
}

/** Falls by column, as the model reads them; all of one length. */
export interface FlatFalls {
  /** NaN: from cruise speed. */
  readonly fromMps: Float64Array;
  readonly toMps: Float64Array;
  /** NaN: follows from the usual deceleration. */
  readonly distanceM: Float64Array;
  readonly count: Float64Array;
}

/** A bare number means so many full stops from cruise. */
export function flattenFalls(stops: number | readonly BrakingFall[] | undefined): FlatFalls {
  const list = typeof stops === 'number' ? [{ fromMps: Number.NaN, toMps: 0, count: stops }] : (stops ?? []);
  const column = (read: (fall: BrakingFall) => number | undefined, otherwise: number) =>
    Float64Array.from(list, (fall) => read(fall) ?? otherwise);
  return {
    fromMps: column((fall) => fall.fromMps, Number.NaN),
    toMps: column((fall) => fall.toMps, 0),
    distanceM: column((fall) => fall.distanceM, Number.NaN),
    count: column((fall) => fall.count, 1),
  };
}

export interface SlowingCar {
  readonly massKg: number;
  readonly cruiseMps: number;
  /** ½ρ·CdA in N/(m/s)². */
  readonly dragPerSquareN: number;
  /** Rolling and grade. */
  readonly constantN: number;
  readonly linearNPerMps: number;
  /** Of a fall whose distance is not known. */
  readonly decelerationMps2: number;
}

/**
 * Work of the brakes over all falls in J, at the wheel and before recuperation. A fall without its distance is taken at
 * the usual deceleration a: Δs = (v_hi² − v_lo²)/(2a), which leaves the share 1 − F̄/(m_e·a) of its kinetic energy.
 */
export function brakingWork(falls: FlatFalls, car: SlowingCar): number {
  const inertia = 0.5 * ROTATING_MASS_FACTOR * car.massKg;
  let work = 0;
  for (let i = 0; i < falls.count.length; i++) {
    const given = falls.fromMps[i] as number;
    const from = Number.isNaN(given) ? car.cruiseMps : given;
    const to = falls.toMps[i] as number;
    const [high, low] = [from * from, to * to];
    const known = falls.distanceM[i] as number;
    const distance = Number.isNaN(known) ? (high - low) / (2 * car.decelerationMps2) : known;
    const meanSquare = (high + low) / 2;
    const force = car.dragPerSquareN * meanSquare + car.linearNPerMps * Math.sqrt(meanSquare) + car.constantN;
    const braked = inertia * (high - low) - force * distance;
    if (braked > 0) work += (falls.count[i] as number) * braked;
  }
  return work;
}

/** Nominal coasting deceleration of a car, m/s²: what it loses on the level without a brake. Common practice, no source. */
const COASTING_MPS2 = 0.1;
const COASTING_PER_M = 1.7e-4;
/** Smaller falls of the braking potential are a cruise control's play and a receiver's noise. */
export const BRAKING_DEAD_BAND_M2S2 = 15;

export interface FoundFall {
  readonly from: number;
  readonly to: number;
  readonly fromMps: number;
  readonly toMps: number;
  readonly distanceM: number;
}

/**
 * Braking falls of a recording, as the falls of Φ = ½v² + ∫a_coast ds between turning points with a dead band (rainflow
 * turning points as in ASTM E1049, 5.4, small ranges left out). Φ stays level while a car coasts and rises while it is
 * driven, so that a long coast is not taken for a braking. `from` and `to` are positions among the samples.
 *
 * @param distanceM along the road, not falling
 */
export function brakingFalls(distanceM: ArrayLike<number>, speedMps: ArrayLike<number>): FoundFall[] {
  const falls: FoundFall[] = [];
  let potential = 0.5 * (speedMps[0] ?? 0) ** 2;
  let coasted = 0;
  let [crest, crestValue] = [0, potential];
  let [trough, troughValue] = [0, potential];
  let isFalling = false;
  const close = () => {
    falls.push({
      from: crest,
      to: trough,
      fromMps: speedMps[crest] as number,
      toMps: speedMps[trough] as number,
      distanceM: (distanceM[trough] as number) - (distanceM[crest] as number),
    });
  };
  for (let k = 1; k < speedMps.length; k++) {
    const [a, b] = [speedMps[k - 1] as number, speedMps[k] as number];
    const step = (distanceM[k] as number) - (distanceM[k - 1] as number);
    coasted += step * (COASTING_MPS2 + (COASTING_PER_M * (a * a + b * b)) / 2);
    potential = 0.5 * b * b + coasted;
    if (isFalling) {
      if (potential <= troughValue) [trough, troughValue] = [k, potential];
      else if (potential - troughValue >= BRAKING_DEAD_BAND_M2S2) {
        close();
        isFalling = false;
        [crest, crestValue] = [k, potential];
      }
    } else if (potential >= crestValue) [crest, crestValue] = [k, potential];
    else if (crestValue - potential >= BRAKING_DEAD_BAND_M2S2) {
      isFalling = true;
      [trough, troughValue] = [k, potential];
    }
  }
  if (isFalling) close();
  return falls.filter((fall) => fall.fromMps > fall.toMps);
}
