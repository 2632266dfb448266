import type { Readings as CheckedReadings, Interval } from '@/lib/capture/readings';
import type { QuantityReading, Readings } from '@/lib/run/runRecord';

const interval = (reading: QuantityReading | undefined): Interval | undefined =>
  reading && { value: reading.value, low: reading.low, high: reading.high };

/** Usable capacities are published and age: ± 5 % around the stated one. Common practice, no source. */
const CAPACITY_SPREAD = 0.05;

/** The readings of a record under the names that the cross-checks know. */
export function displayReadings(readings: Readings, usableCapacityWh: number | undefined): CheckedReadings {
  const checked: CheckedReadings = {
    distanceM: interval(readings.tripDistance),
    energyWh: interval(readings.tripEnergy),
    consumptionWhPerKm: interval(readings.tripEfficiency),
    durationS: interval(readings.tripDuration),
    meanSpeedMps: interval(readings.tripMeanSpeed),
    cruiseSpeedMps: interval(readings.trueSpeed),
    chargeStart: interval(readings.chargeStart),
    chargeEnd: interval(readings.chargeEnd),
    chargerEnergyWh: interval(readings.chargerEnergy),
    outboundDistanceM: interval(readings.outboundDistance),
    outboundEnergyWh: interval(readings.outboundEnergy),
    outboundDurationS: interval(readings.outboundDuration),
    odometerStartM: interval(readings.odometerStart),
    odometerEndM: interval(readings.odometerEnd),
    usableCapacityWh:
      usableCapacityWh === undefined
        ? undefined
        : {
            value: usableCapacityWh,
            low: usableCapacityWh * (1 - CAPACITY_SPREAD),
            high: usableCapacityWh * (1 + CAPACITY_SPREAD),
          },
  };
  return checked;
}
