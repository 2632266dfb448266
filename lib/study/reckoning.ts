import { type ChargingCurve, chargingTimeS, powerPrior } from '@/lib/physics/estimate/taper';
import { type BatteryKnown, warmCapacity } from '@/lib/physics/estimate/usableEnergy';
import { CHARGING_EFFICIENCY } from '@/lib/physics/reconcile';
import { plannedDetectable, plannedPower, plannedPrecision } from '@/lib/stats/plannedPair';
import { MOST_DAYS, type OrdersAsked, type StudyOrders, studyOrders } from './orders';

/** What the registry knows of a car and a loop, from which a plan is reckoned. */
export interface ReckoningBasis {
  /** Variance of one run on the log scale, its known part included; from the class's fit, or assumed. */
  runVariance: number;
  isAssumed: boolean;
  loopLengthM: number;
  speedMps: number;
  /** Of the baseline at reference conditions; null where nobody has driven it. */
  consumptionWhPerKm: number | null;
  battery: BatteryKnown | null;
  curve: ChargingCurve | null;
}

export interface ReckoningAsked extends OrdersAsked {
  /** The setups whose difference from the baseline is asked for. */
  contrastIds: readonly string[];
  /** Difference in consumption that is worth knowing, %, and the chance with which it is to be found. */
  wantedPercent: number;
  power: number;
  /** Changing the setup, reading displays, starting anew: after each run. */
  betweenRunsS: number;
  /** Per Wh bought; undefined where none is named. */
  pricePerWh?: number | undefined;
}

export interface Reckoned {
  orders: StudyOrders;
  runs: number;
  runsOf: { setupId: string; runs: number }[];
  /** Chance that the wanted difference shows in the contrast that is seen least well. */
  power: number;
  /** The smallest difference in it that shows with the wanted chance, %; null where no spread can be had from the plan. */
  detectablePercent: number | null;
  /** Days after which the wanted chance is reached; null where more than anybody drives would not do. */
  daysNeeded: number | null;
  drivingS: number;
  betweenS: number;
  /** Null where battery or consumption are not known. */
  charging: Charging | null;
  energyWh: number | null;
  cost: number | null;
}

export interface Charging {
  /** Back to the charge of the start between the runs of a day. */
  stops: number;
  timeS: number;
  /** Of the battery, one run. */
  shareOfRun: number;
  isAssumedCurve: boolean;
}

const ALPHA = 0.05;
/** Before the first run of a day (protocol: warm-up); m. */
const WARM_UP_M = 10_000;
/** Charge that each run starts with, so that runs are alike. Common practice, no source. */
export const START_CHARGE = 0.9;
/** The protocol's least charge at the end. */
const LEAST_CHARGE = 0.1;

/** α of each contrast: it is divided over those that the plan names (method C1). */
export function alphaOf(contrasts: number): number {
  return ALPHA / Math.max(1, contrasts);
}

/** Everything that a plan of so many days amounts to. */
export function reckon(asked: ReckoningAsked, basis: ReckoningBasis): Reckoned {
  const orders = studyOrders(asked);
  const { runs, drivenM, ...time } = timeOf(orders.days, asked.betweenRunsS, basis);
  const energyWh = basis.consumptionWhPerKm === null ? null : (basis.consumptionWhPerKm * drivenM) / 1000;
  return {
    orders,
    runs,
    runsOf: [asked.baselineId, ...asked.otherIds].map((setupId) => ({
      setupId,
      runs: orders.days.reduce((sum, day) => sum + day.filter((one) => one === setupId).length, 0),
    })),
    power: powerOf(orders.days, asked, basis),
    detectablePercent: detectableOf(orders.days, asked, basis),
    daysNeeded: daysNeeded(asked, basis),
    ...time,
    energyWh,
    cost:
      energyWh === null || asked.pricePerWh === undefined
        ? null
        : (asked.pricePerWh * energyWh) / CHARGING_EFFICIENCY.dc.value,
  };
}

type Days = readonly (readonly string[])[];

/** What days of these runs take: driving with a warm-up a day, changing setups, charging in between. */
export function timeOf(
  days: Days,
  betweenRunsS: number,
  basis: ReckoningBasis,
): { runs: number; drivenM: number } & Pick<Reckoned, 'drivingS' | 'betweenS' | 'charging'> {
  const runs = days.reduce((sum, day) => sum + day.length, 0);
  const drivenM = runs * basis.loopLengthM + days.length * WARM_UP_M;
  return {
    runs,
    drivenM,
    drivingS: drivenM / basis.speedMps,
    betweenS: runs * betweenRunsS,
    charging: chargingOf(days, basis),
  };
}

/** The least of the contrasts': a plan is as good as what it sees least well. */
function powerOf(days: Days, asked: ReckoningAsked, { runVariance }: ReckoningBasis): number {
  const difference = Math.log1p(asked.wantedPercent / 100);
  return Math.min(
    ...asked.contrastIds.map((id) =>
      plannedPower(
        plannedPrecision(days, asked.baselineId, id),
        difference,
        runVariance,
        alphaOf(asked.contrastIds.length),
      ),
    ),
  );
}

function detectableOf(days: Days, asked: ReckoningAsked, { runVariance }: ReckoningBasis): number | null {
  let largest = 0;
  for (const id of asked.contrastIds) {
    const precision = plannedPrecision(days, asked.baselineId, id);
    const found = plannedDetectable(precision, asked.power, runVariance, alphaOf(asked.contrastIds.length));
    if (found === null) return null;
    largest = Math.max(largest, found);
  }
  return 100 * Math.expm1(largest);
}

function daysNeeded(asked: ReckoningAsked, basis: ReckoningBasis): number | null {
  for (let days = 1; days <= MOST_DAYS; days++) {
    if (powerOf(studyOrders({ ...asked, days }).days, asked, basis) >= asked.power) return days;
  }
  return null;
}

/** Each run starts with the same charge, so what it took is charged before the next of the day. */
function chargingOf(days: Days, { battery, curve, consumptionWhPerKm, loopLengthM }: ReckoningBasis) {
  if (battery === null || curve === null || consumptionWhPerKm === null) return null;
  const { capacityWh } = warmCapacity(battery);
  const shareOfRun = (consumptionWhPerKm * loopLengthM) / 1000 / capacityWh;
  const stops = days.reduce((sum, day) => sum + Math.max(0, day.length - 1), 0);
  const from = Math.max(0, START_CHARGE - shareOfRun);
  const oneS = chargingTimeS(curve, capacityWh, from, START_CHARGE) / powerPrior(curve).value;
  return { stops, timeS: stops * oneS, shareOfRun, isAssumedCurve: curve.basis === 'assumed' };
}

/** What speaks against a plan, in whole sentences; none where nothing does. */
export function planCautions(
  { power, daysNeeded, detectablePercent, charging }: Reckoned,
  asked: Pick<ReckoningAsked, 'power' | 'days'>,
): string[] {
  const cautions: string[] = [];
  if (detectablePercent === null) {
    cautions.push(
      'So few runs cannot show how well they repeat, so no difference could be told from chance. Plan another day, or more runs a day.',
    );
  } else if (power < asked.power) {
    cautions.push(
      daysNeeded === null
        ? 'The difference that you want to see is too small for a study that anybody would drive. A larger one, or more runs a day, would do.'
        : `The difference that you want to see may well be missed: it would take ${daysNeeded} days.`,
    );
  }
  if (asked.days === 1) {
    cautions.push(
      'A single day says nothing of other weather and traffic: the answer would hold for that day.',
    );
  }
  if (charging !== null && charging.shareOfRun > START_CHARGE - LEAST_CHARGE) {
    cautions.push(
      'One run takes more than the battery gives between 90 and 10 %. Choose a shorter loop or a slower class.',
    );
  }
  return cautions;
}
