import { coverageFactor95 } from '@/lib/numerics/studentT';
import type { DrawnInput } from '../draws';
import { type Simulation, type SimulationOptions, simulate, simulateTogether } from '../monteCarlo';
import { ESTIMATE_PRIORS } from './estimatePriors';
import type { LogConsumption } from './range';
import { powerPrior } from './taper';
import { checkPlan, planTrip, type Trip, type TripPlan, type TripValues } from './trip';
import { type BatteryKnown, coldK, warmCapacity } from './usableEnergy';

/** What a trip's plan is reckoned with, each with what is not known of it. */
export interface TripKnown {
  readonly consumption: LogConsumption;
  readonly battery: BatteryKnown;
  /** At departure. */
  readonly batteryTemperatureC: number;
}

export interface TripEstimate {
  /** At the estimates themselves. */
  readonly trip: Trip;
  readonly totalS: Simulation;
  readonly chargingS: Simulation;
  /** Null without a price. */
  readonly cost: Simulation | null;
  /** Shares of the draws by number of stops, fewest first. */
  readonly stops: readonly { readonly stops: number; readonly share: number }[];
}

/** Of a draw that takes more stops than anybody would make: then none of the numbers is given. */
const ENDLESS = { totalS: 0, chargingS: 0, cost: 0 };

/** Four inputs in the order in which they are drawn. */
function inputsOf({ consumption, battery }: TripKnown, plan: TripPlan): DrawnInput[] {
  const { capacityWh, uWh } = warmCapacity(battery);
  const power = powerPrior(plan.curve);
  const { coldPerK } = ESTIMATE_PRIORS;
  return [
    { value: consumption.log, u: consumption.u, distribution: 'normal', dof: consumption.df },
    { value: capacityWh, u: uWh, distribution: 'normal' },
    { value: coldPerK.value, u: coldPerK.u, distribution: 'normal' },
    // a power is above zero: drawn on the log scale
    { value: Math.log(power.value), u: power.u, distribution: 'normal' },
  ];
}

function valuesFrom(x: ArrayLike<number>, batteryTemperatureC: number): TripValues {
  return {
    consumptionWhPerKm: Math.exp(x[0] as number),
    capacityWh: x[1] as number,
    firstStretchShare: 1 - (x[2] as number) * coldK(batteryTemperatureC),
    powerShare: Math.exp(x[3] as number),
  };
}

/**
 * A trip with intervals of its times and cost by Monte Carlo (JCGM 101:2008, clause 7), since the number of stops jumps;
 * the consumption is drawn as a scaled t-distribution (6.4.9). Null where the trip, or a draw of it, takes more stops
 * than anybody would make. Seeded: the same question gives the same digits, and two trips with one seed share the
 * battery's and the charger's draws.
 */
export function estimateTrip(
  plan: TripPlan,
  known: TripKnown,
  options: SimulationOptions,
): TripEstimate | null {
  checkPlan(plan);
  const inputs = inputsOf(known, plan);
  const trip = planTrip(
    plan,
    valuesFrom(
      inputs.map(({ value }) => value),
      known.batteryTemperatureC,
    ),
  );
  if (trip === null) return null;
  const counted = new Map<number, number>();
  let endless = false;
  const drawn = simulateTogether(
    inputs,
    ['totalS', 'chargingS', 'cost'],
    (x) => {
      const one = planTrip(plan, valuesFrom(x, known.batteryTemperatureC));
      if (one === null) {
        endless = true;
        return ENDLESS;
      }
      counted.set(one.stops.length, (counted.get(one.stops.length) ?? 0) + 1);
      return { totalS: one.totalS, chargingS: one.chargingS, cost: one.cost ?? 0 };
    },
    options,
  );
  if (endless) return null;
  return {
    trip,
    totalS: drawn.totalS,
    chargingS: drawn.chargingS,
    cost: trip.cost === null ? null : drawn.cost,
    stops: [...counted]
      .sort(([a], [b]) => a - b)
      .map(([stops, count]) => ({ stops, share: count / options.draws })),
  };
}

/** Difference of two trips of one car, first less second. */
export interface TripDifference {
  readonly totalS: Simulation;
  readonly cost: Simulation | null;
}

/**
 * What one setup saves another on the same trip: battery and charger are drawn once for both, and the two consumptions
 * jointly so that u² of their difference of logs is `uOfDifference`² (2·cov = u₁² + u₂² − u_d²; JCGM 101:2008, 6.4.8).
 * Joint draws are normal, and widened to the coverage factor of their degrees of freedom. Null as for one trip.
 */
export function tripDifference(
  plan: TripPlan,
  known: TripKnown,
  second: LogConsumption,
  uOfDifference: number,
  options: SimulationOptions,
): TripDifference | null {
  checkPlan(plan);
  const first = known.consumption;
  const covariance = (first.u ** 2 + second.u ** 2 - uOfDifference ** 2) / 2;
  const product = first.u * second.u;
  const coefficient = product === 0 ? 0 : Math.max(-1, Math.min(1, covariance / product));
  const [, ...others] = inputsOf(known, plan);
  const joint = ({ log, u, df }: LogConsumption): DrawnInput => ({
    value: log,
    u: (u * coverageFactor95(df)) / coverageFactor95(Number.POSITIVE_INFINITY),
    distribution: 'normal',
  });
  const inputs = [joint(first), ...others, joint(second)];
  const both = (x: ArrayLike<number>): [Trip, Trip] | null => {
    const values = valuesFrom(x, known.batteryTemperatureC);
    const one = planTrip(plan, values);
    const other = planTrip(plan, { ...values, consumptionWhPerKm: Math.exp(x[others.length + 1] as number) });
    return one === null || other === null ? null : [one, other];
  };
  let endless = false;
  const drawn = simulateTogether(
    inputs,
    ['totalS', 'cost'],
    (x) => {
      const pair = both(x);
      if (pair === null) {
        endless = true;
        return ENDLESS;
      }
      const [one, other] = pair;
      return { totalS: one.totalS - other.totalS, cost: (one.cost ?? 0) - (other.cost ?? 0) };
    },
    options,
    [{ a: 0, b: others.length + 1, coefficient }],
  );
  if (endless) return null;
  return { totalS: drawn.totalS, cost: plan.price === undefined ? null : drawn.cost };
}

export interface SpeedOption {
  readonly speedMps: number;
  readonly consumption: LogConsumption;
}

export interface SpeedOutcome {
  readonly speedMps: number;
  readonly estimate: TripEstimate;
}

export interface BestSpeed {
  /** Slowest first; speeds at which the trip cannot be made are left out. */
  readonly outcomes: readonly SpeedOutcome[];
  readonly best: SpeedOutcome;
  /** The best of the given speeds over the draws, m/s. */
  readonly simulated: Simulation;
}

/**
 * The same trip at several cruise speeds and the one with the least total time, with the interval of where that lies.
 * A draw is one car on one day: it moves the consumption at all speeds by the same number of its own u, at the least of
 * their degrees of freedom. Null where the trip can be made at none.
 */
export function bestCruiseSpeed(
  plan: Omit<TripPlan, 'speedMps'>,
  battery: Omit<TripKnown, 'consumption'>,
  speeds: readonly SpeedOption[],
  options: SimulationOptions,
): BestSpeed | null {
  const made = [...speeds]
    .sort((a, b) => a.speedMps - b.speedMps)
    .flatMap(({ speedMps, consumption }) => {
      const at = { ...plan, speedMps };
      const estimate = estimateTrip(at, { ...battery, consumption }, options);
      return estimate === null ? [] : [{ at, consumption, outcome: { speedMps, estimate } }];
    });
  const [first, ...others] = made.map(({ outcome }) => outcome);
  if (first === undefined) return null;
  const best = others.reduce((a, b) => (b.estimate.trip.totalS < a.estimate.trip.totalS ? b : a), first);
  const df = Math.min(...made.map(({ consumption }) => consumption.df));
  const inputs = inputsOf({ ...battery, consumption: { log: 0, u: 1, df } }, { ...plan, speedMps: 1 });
  const simulated = simulate(
    inputs,
    (x) => {
      let [least, speedMps] = [Number.POSITIVE_INFINITY, best.speedMps];
      for (const { at, consumption } of made) {
        const log = consumption.log + consumption.u * (x[0] as number);
        const values = { ...valuesFrom(x, battery.batteryTemperatureC), consumptionWhPerKm: Math.exp(log) };
        const totalS = planTrip(at, values)?.totalS ?? Number.POSITIVE_INFINITY;
        if (totalS < least) [least, speedMps] = [totalS, at.speedMps];
      }
      return speedMps;
    },
    options,
  );
  return { outcomes: made.map(({ outcome }) => outcome), best, simulated };
}
