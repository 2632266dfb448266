import { DataTable } from '@/app/ui/DataTable';
import { Notice } from '@/app/ui/Notice';
import type { RunResult } from '@/lib/reduction/runResult';
import type { Display } from '@/lib/units/display';
import {
  placeOf,
  showChance,
  showFactor,
  showNumber,
  showQuantity,
  showWithUncertainty,
} from '@/lib/units/show';

/** Every reading that says how much energy the run took, and how they agree. */
export function EnergyReadings({ result, display }: { result: RunResult; display: Display }) {
  const { energy } = result;
  const decimalsKwh = placeOf(energy.energyWh, energy.uWh, 'kWh', display);
  return (
    <>
      {energy.disagreeing ? (
        <Notice kind="caution" title={`“${energy.disagreeing.label}” does not fit the others.`}>
          It lies {showNumber(energy.disagreeing.standardisedResidual, 1, display, { signed: true })} standard
          deviations from what they say together: χ² {showNumber(energy.chiSquare, 1, display)} at{' '}
          {energy.dof} degrees of freedom, which readings of the stated uncertainty exceed with probability{' '}
          {showChance(energy.pValue, display)}.
        </Notice>
      ) : null}
      <DataTable
        caption="Readings of the energy drawn from the battery"
        captionHidden
        rows={energy.readings}
        rowKey={(reading) => reading.label}
        columns={[
          { key: 'label', header: 'Reading', rowHeader: true, cell: (reading) => capital(reading.label) },
          {
            key: 'energy',
            header: 'Energy',
            unit: 'kWh',
            align: 'end',
            cell: (reading) =>
              showQuantity(reading.energyWh, 'kWh', display, { decimals: decimalsKwh, bare: true }),
          },
          {
            key: 'u',
            header: 'Standard uncertainty',
            unit: 'kWh',
            align: 'end',
            cell: (reading) =>
              showQuantity(reading.uWh, 'kWh', display, { decimals: decimalsKwh, bare: true }),
          },
          {
            key: 'weight',
            header: 'Weight',
            unit: '%',
            align: 'end',
            // results of the first version of the method averaged every reading
            cell: (reading) =>
              (reading.isAveraged as boolean | undefined) === false
                ? 'compared only'
                : showNumber(100 * (energy.uInternalWh / reading.uWh) ** 2, 1, display),
          },
          {
            key: 'residual',
            header: 'Residual',
            unit: 'standard deviations',
            align: 'end',
            cell: (reading) => showNumber(reading.standardisedResidual, 2, display, { signed: true }),
          },
        ]}
        footnote={
          <>
            Together:{' '}
            {showWithUncertainty(energy.energyWh, energy.uWh, 'kWh', display, { decimals: decimalsKwh })}{' '}
            (weights 1/u²).{' '}
            {energy.birgeRatio === null
              ? 'A single reading cannot be checked against another.'
              : `Birge ratio ${showFactor(energy.birgeRatio, display)}${
                  energy.uWh > energy.uInternalWh * (1 + 1e-9)
                    ? ': the uncertainty was widened by it'
                    : ': the readings agree within their uncertainty'
                }.`}
          </>
        }
      />
    </>
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
