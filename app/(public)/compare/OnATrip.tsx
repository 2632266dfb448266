import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import { type ComparedSetup, type CompareView, TRIP_KM } from '@/lib/registry/comparisons/compare';
import { formatNumber } from '@/lib/units/format';
import { fromCanonical } from '@/lib/units/unit';

const kWh = (energyWh: number, signed: boolean) =>
  formatNumber(fromCanonical(energyWh, 'kWh'), 2, { signed });

/** The difference as energy, which is what a driver pays and waits for. */
export function OnATrip({ view, baseline }: { view: CompareView; baseline: ComparedSetup }) {
  return (
    <Section
      id="trip"
      title={`On a trip of ${TRIP_KM} km`}
      note={`At a steady ${view.classLabel} and reference conditions. The interval is that of the difference for all pairs at once; the baseline’s own consumption is taken at its estimate.`}
    >
      <DataTable
        caption={`Energy over ${TRIP_KM} km; the baseline draws ${kWh(baseline.estimateWhPerKm * TRIP_KM, false)} kWh`}
        rows={view.differences}
        rowKey={(difference) => difference.setup.setupId}
        columns={[
          { key: 'setup', header: 'Setup', rowHeader: true, cell: ({ setup }) => setup.name },
          {
            key: 'difference',
            header: 'More or less',
            unit: 'kWh',
            align: 'end',
            cell: ({ onTripWh }) => (onTripWh === null ? '–' : kWh(onTripWh.difference, true)),
          },
          {
            key: 'interval',
            header: '95 % interval',
            unit: 'kWh',
            align: 'end',
            cell: ({ onTripWh }) =>
              onTripWh === null ? 'no interval' : `${kWh(onTripWh.low, true)} to ${kWh(onTripWh.high, true)}`,
          },
        ]}
        footnote="An estimate under stated conditions, not a promise of range."
      />
    </Section>
  );
}
