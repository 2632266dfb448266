import {
  type EnergyReading,
  energyFromCharge,
  energyFromCharger,
  energyFromConsumption,
  energyFromDisplay,
} from '@/lib/physics/reconcile';
import { rectangularU } from './readingUncertainty';
import type { ReducedRecord } from './snapshot';

/** A usable capacity from a data sheet or an owner, as a share of itself: common practice, no source. */
export const CAPACITY_RELATIVE_U = 0.03;

/**
 * Every reading that says how much energy the run took (method A1). The shown consumption is multiplied with the
 * distance of the same display, since that is what the car divided by.
 */
export function energyReadings(record: ReducedRecord, usableCapacityWh: number | undefined): EnergyReading[] {
  const { tripEnergy, tripEfficiency, tripDistance, chargeStart, chargeEnd, chargerEnergy } = record.readings;
  const energies: EnergyReading[] = [];
  if (tripEnergy) energies.push(energyFromDisplay(tripEnergy.value, (tripEnergy.high - tripEnergy.low) / 2));
  if (tripEfficiency && tripDistance) {
    energies.push(
      energyFromConsumption(
        tripEfficiency.value,
        rectangularU(tripEfficiency),
        tripDistance.value,
        rectangularU(tripDistance),
      ),
    );
  }
  if (chargeStart && chargeEnd && usableCapacityWh !== undefined && chargeStart.value > chargeEnd.value) {
    energies.push(
      energyFromCharge(
        chargeStart.value,
        chargeEnd.value,
        usableCapacityWh,
        usableCapacityWh * CAPACITY_RELATIVE_U,
      ),
    );
  }
  if (chargerEnergy && record.chargerKind !== undefined) {
    energies.push(
      energyFromCharger(
        chargerEnergy.value,
        (chargerEnergy.high - chargerEnergy.low) / 2,
        record.chargerKind,
      ),
    );
  }
  return energies;
}

/** Relative uncertainty that the display's digits alone leave: the best of the energy and the consumption shown. */
export function resolutionUncertainty(record: ReducedRecord): number {
  const { tripEnergy, tripEfficiency } = record.readings;
  const relative = [tripEnergy, tripEfficiency].flatMap((reading) =>
    reading && reading.value > 0 ? [rectangularU(reading) / reading.value] : [],
  );
  return relative.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...relative);
}
