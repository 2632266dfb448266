import { DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
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
          It lies farther from what they say together than their rounding and scale explain.
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
            header: '±',
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
        ]}
        footnote={
          <>
            Together:{' '}
            {showWithUncertainty(energy.energyWh, energy.uWh, 'kWh', display, { decimals: decimalsKwh })} (the
            surer a reading, the more it counts).{' '}
            {energy.birgeRatio === null
              ? 'A single reading cannot be checked against another.'
              : energy.uWh > energy.uInternalWh * (1 + 1e-9)
                ? 'They lie farther apart than their ± lets one expect, so the uncertainty was widened.'
                : 'They agree within their ±.'}
          </>
        }
      />
      {energy.birgeRatio === null ? null : <Agreement energy={energy} display={display} />}
    </>
  );
}

/** How far each reading lies from all together, and whether that is more than chance. */
function Agreement({ energy, display }: { energy: RunResult['energy']; display: Display }) {
  return (
    <Disclosure
      title="How well the readings agree"
      says="Each reading is held against what all say together, counted in steps of its own ± (its residual, in standard deviations)."
    >
      <DataTable
        caption="Residuals of the energy readings"
        captionHidden
        rows={energy.readings}
        rowKey={(reading) => reading.label}
        columns={[
          { key: 'label', header: 'Reading', rowHeader: true, cell: (reading) => capital(reading.label) },
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
            {energy.birgeRatio === null
              ? ''
              : `Birge ratio ${showFactor(energy.birgeRatio, display)}: how far they lie apart, against what their ± lets one expect. `}
            χ² {showNumber(energy.chiSquare, 1, display)} at {energy.dof} degrees of freedom; by luck alone it
            would be larger with a chance of {showChance(energy.pValue, display)}.
          </>
        }
      />
    </Disclosure>
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
