/**
 * The relations that must hold among the readings of one run, as data (method A1): which readings each needs, the
 * quantity both sides speak of, and the words a sentence uses.
 */
import {
  divideIntervals,
  type Interval,
  multiplyIntervals,
  type ReadingName,
  scaleInterval,
  subtractIntervals,
} from './readings';

export type CheckId =
  | 'efficiency'
  | 'outboundEfficiency'
  | 'meanSpeed'
  | 'meanBelowCruise'
  | 'shownMeanBelowCruise'
  | 'chargeDrop'
  | 'finishChargeBelowStart'
  | 'turnaroundChargeBelowStart'
  | 'finishChargeBelowTurnaround'
  | 'chargerEnergy'
  | 'turnaroundEnergy'
  | 'turnaroundDistance'
  | 'turnaroundTime'
  | 'odometer';

export type CheckedQuantity =
  | 'consumptionWhPerKm'
  | 'speedMps'
  | 'energyWh'
  | 'distanceM'
  | 'durationS'
  | 'charge';

/** Share of the energy a charger delivers that ends up in the battery: outside this no charger works (method A1). */
export const chargingEfficiencyRange: Interval = { value: 0.92, low: 0.85, high: 0.98 };

export interface CheckRule {
  readonly id: CheckId;
  readonly needs: readonly ReadingName[];
  readonly quantity: CheckedQuantity;
  /** 'equal': the intervals must meet. 'below': the derived quantity must be able to lie at or below the shown one. */
  readonly relation: 'equal' | 'below';
  /** The reading divided by; the check is not made when it may be zero. */
  readonly divisor?: ReadingName;
  readonly derive: (r: (name: ReadingName) => Interval) => { derived: Interval; shown: Interval };
  readonly derivedWords: string;
  readonly shownWords: string;
}

const metresPerKm = 1000;

export const checkRules: readonly CheckRule[] = [
  {
    id: 'efficiency',
    needs: ['distanceM', 'energyWh', 'consumptionWhPerKm'],
    divisor: 'distanceM',
    quantity: 'consumptionWhPerKm',
    relation: 'equal',
    derive: (r) => ({
      derived: scaleInterval(divideIntervals(r('energyWh'), r('distanceM')), metresPerKm),
      shown: r('consumptionWhPerKm'),
    }),
    derivedWords: 'energy ÷ distance',
    shownWords: 'the shown efficiency',
  },
  {
    id: 'outboundEfficiency',
    needs: ['outboundDistanceM', 'outboundEnergyWh', 'outboundConsumptionWhPerKm'],
    divisor: 'outboundDistanceM',
    quantity: 'consumptionWhPerKm',
    relation: 'equal',
    derive: (r) => ({
      derived: scaleInterval(divideIntervals(r('outboundEnergyWh'), r('outboundDistanceM')), metresPerKm),
      shown: r('outboundConsumptionWhPerKm'),
    }),
    derivedWords: 'energy ÷ distance at the turnaround',
    shownWords: 'the efficiency shown there',
  },
  {
    id: 'meanSpeed',
    needs: ['distanceM', 'durationS', 'meanSpeedMps'],
    divisor: 'durationS',
    quantity: 'speedMps',
    relation: 'equal',
    derive: (r) => ({ derived: divideIntervals(r('distanceM'), r('durationS')), shown: r('meanSpeedMps') }),
    derivedWords: 'distance ÷ time',
    shownWords: 'the shown mean speed',
  },
  {
    id: 'meanBelowCruise',
    needs: ['distanceM', 'durationS', 'cruiseSpeedMps'],
    divisor: 'durationS',
    quantity: 'speedMps',
    relation: 'below',
    derive: (r) => ({ derived: divideIntervals(r('distanceM'), r('durationS')), shown: r('cruiseSpeedMps') }),
    derivedWords: 'distance ÷ time',
    shownWords: 'the cruise speed',
  },
  {
    id: 'shownMeanBelowCruise',
    needs: ['meanSpeedMps', 'cruiseSpeedMps'],
    quantity: 'speedMps',
    relation: 'below',
    derive: (r) => ({ derived: r('meanSpeedMps'), shown: r('cruiseSpeedMps') }),
    derivedWords: 'the shown mean speed',
    shownWords: 'the cruise speed',
  },
  {
    id: 'chargeDrop',
    needs: ['chargeStart', 'chargeEnd', 'usableCapacityWh', 'energyWh'],
    quantity: 'energyWh',
    relation: 'equal',
    derive: (r) => {
      const drop = subtractIntervals(r('chargeStart'), r('chargeEnd'));
      // A drop cannot be below nothing; its low end may dip there when both readings are coarse.
      const positive = {
        value: Math.max(drop.value, 0),
        low: Math.max(drop.low, 0),
        high: Math.max(drop.high, 0),
      };
      return { derived: multiplyIntervals(positive, r('usableCapacityWh')), shown: r('energyWh') };
    },
    derivedWords: 'charge used × usable capacity',
    shownWords: 'the energy',
  },
  {
    id: 'finishChargeBelowStart',
    needs: ['chargeStart', 'chargeEnd'],
    quantity: 'charge',
    relation: 'below',
    derive: (r) => ({ derived: r('chargeEnd'), shown: r('chargeStart') }),
    derivedWords: 'the charge at finish',
    shownWords: 'the charge at start',
  },
  {
    id: 'turnaroundChargeBelowStart',
    needs: ['chargeStart', 'chargeTurnaround'],
    quantity: 'charge',
    relation: 'below',
    derive: (r) => ({ derived: r('chargeTurnaround'), shown: r('chargeStart') }),
    derivedWords: 'the charge at turnaround',
    shownWords: 'the charge at start',
  },
  {
    id: 'finishChargeBelowTurnaround',
    needs: ['chargeTurnaround', 'chargeEnd'],
    quantity: 'charge',
    relation: 'below',
    derive: (r) => ({ derived: r('chargeEnd'), shown: r('chargeTurnaround') }),
    derivedWords: 'the charge at finish',
    shownWords: 'the charge at turnaround',
  },
  {
    id: 'chargerEnergy',
    needs: ['chargerEnergyWh', 'energyWh'],
    quantity: 'energyWh',
    relation: 'equal',
    derive: (r) => ({
      derived: multiplyIntervals(r('chargerEnergyWh'), chargingEfficiencyRange),
      shown: r('energyWh'),
    }),
    derivedWords: 'charger energy less a charging loss of 2 to 15 %',
    shownWords: 'the energy',
  },
  {
    id: 'turnaroundEnergy',
    needs: ['outboundEnergyWh', 'energyWh'],
    quantity: 'energyWh',
    relation: 'below',
    derive: (r) => ({ derived: r('outboundEnergyWh'), shown: r('energyWh') }),
    derivedWords: 'the energy at turnaround',
    shownWords: 'the energy of the whole run',
  },
  {
    id: 'turnaroundDistance',
    needs: ['outboundDistanceM', 'distanceM'],
    quantity: 'distanceM',
    relation: 'below',
    derive: (r) => ({ derived: r('outboundDistanceM'), shown: r('distanceM') }),
    derivedWords: 'the distance at turnaround',
    shownWords: 'the distance of the whole run',
  },
  {
    id: 'turnaroundTime',
    needs: ['outboundDurationS', 'durationS'],
    quantity: 'durationS',
    relation: 'below',
    derive: (r) => ({ derived: r('outboundDurationS'), shown: r('durationS') }),
    derivedWords: 'the time at turnaround',
    shownWords: 'the time of the whole run',
  },
  {
    id: 'odometer',
    needs: ['odometerStartM', 'odometerEndM', 'distanceM'],
    quantity: 'distanceM',
    relation: 'equal',
    derive: (r) => ({
      derived: subtractIntervals(r('odometerEndM'), r('odometerStartM')),
      shown: r('distanceM'),
    }),
    derivedWords: 'the odometer difference',
    shownWords: 'the trip distance',
  },
];
