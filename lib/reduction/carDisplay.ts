import { type DisplayScale, displayScale } from '@/lib/physics/displayScale';
import {
  CHARGING_EFFICIENCY,
  chargerLabel,
  LEVEL_LABEL,
  type ReconciledEnergy,
} from '@/lib/physics/reconcile';
import { CAPACITY_RELATIVE_U } from './energyReadings';

const relativeU = ({ value, u }: { value: number; u: number }) => u / value;

/** What energy shown is held against, each with the relative u of a conversion that is one number for the car. */
const SOURCES = [
  { label: chargerLabel('dc'), uConversion: relativeU(CHARGING_EFFICIENCY.dc) },
  { label: chargerLabel('ac'), uConversion: relativeU(CHARGING_EFFICIENCY.ac) },
  { label: LEVEL_LABEL, uConversion: CAPACITY_RELATIVE_U },
] as const;

type EnergyOfRun = Pick<ReconciledEnergy, 'energyWh' | 'uWh' | 'readings'>;

/**
 * What a car's runs say of the scale of its energy display: ln of each run's charger and charge readings over the
 * energy that the display's readings give together. The u of a run beyond its conversion is that of the digits of both,
 * and of several runs the root of their mean square. Null where no run has both kinds of readings.
 */
export function carDisplayScale(runs: readonly EnergyOfRun[]): DisplayScale | null {
  return displayScale(
    SOURCES.map(({ label, uConversion }) => {
      const ratios = runs.flatMap((energy) => {
        const other = energy.readings.find((reading) => reading.label === label && !reading.isCounter);
        const isShown = energy.readings.some(({ isCounter, isAveraged }) => isCounter && isAveraged);
        if (other === undefined || !isShown) return [];
        const ofDigits = Math.max(0, (other.uWh / other.energyWh) ** 2 - uConversion ** 2);
        return [
          {
            ln: Math.log(other.energyWh / energy.energyWh),
            variance: ofDigits + (energy.uWh / energy.energyWh) ** 2,
          },
        ];
      });
      const meanVariance = ratios.reduce((sum, { variance }) => sum + variance, 0) / ratios.length;
      return { label, logRatios: ratios.map(({ ln }) => ln), uConversion, uRun: Math.sqrt(meanVariance) };
    }),
  );
}
