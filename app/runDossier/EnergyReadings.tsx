import { DataTable } from '@/app/ui/DataTable';
import { Notice } from '@/app/ui/Notice';
import type { RunResult } from '@/lib/reduction/runResult';
import { formatNumber, formatQuantity, formatWithUncertainty } from '@/lib/units/format';
import { decimalsFor, percent } from './numbers';

/** Every reading that says how much energy the run took, and how they agree. */
export function EnergyReadings({ result }: { result: RunResult }) {
  const { energy } = result;
  const decimalsKwh = decimalsFor(energy.uWh / 1000, 1, 3);
  return (
    <>
      {energy.disagreeing ? (
        <Notice kind="caution" title={`“${energy.disagreeing.label}” does not fit the others.`}>
          It lies {formatNumber(energy.disagreeing.standardisedResidual, 1, { signed: true })} standard
          deviations from what they say together: χ² {formatNumber(energy.chiSquare, 1)} at {energy.dof}{' '}
          degrees of freedom, which readings of the stated uncertainty exceed with probability{' '}
          {energy.pValue < 1e-4 ? 'below 0.01 %' : percent(energy.pValue, 2)}.
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
            cell: (reading) => formatQuantity(reading.energyWh, 'kWh', { decimals: decimalsKwh, bare: true }),
          },
          {
            key: 'u',
            header: 'Standard uncertainty',
            unit: 'kWh',
            align: 'end',
            cell: (reading) => formatQuantity(reading.uWh, 'kWh', { decimals: decimalsKwh, bare: true }),
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
                : formatNumber(100 * (energy.uInternalWh / reading.uWh) ** 2, 1),
          },
          {
            key: 'residual',
            header: 'Residual',
            unit: 'standard deviations',
            align: 'end',
            cell: (reading) => formatNumber(reading.standardisedResidual, 2, { signed: true }),
          },
        ]}
        footnote={
          <>
            Together: {formatWithUncertainty(energy.energyWh, energy.uWh, 'kWh', { decimals: decimalsKwh })}{' '}
            (weights 1/u²).{' '}
            {energy.birgeRatio === null
              ? 'A single reading cannot be checked against another.'
              : `Birge ratio ${formatNumber(energy.birgeRatio, 2)}${
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
