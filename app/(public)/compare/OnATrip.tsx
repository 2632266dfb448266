import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import {
  type ComparedSetup,
  type CompareView,
  type SetupDifference,
  TRIP_KM,
} from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { showEstimate, showQuantity } from '@/lib/units/show';

/** The difference as energy, which is what a driver pays and waits for. */
export function OnATrip({
  view,
  baseline,
  display,
}: {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}) {
  const trip = showQuantity(TRIP_KM * 1000, 'distance', display);
  return (
    <Section
      id="trip"
      title={`On a trip of ${trip}`}
      note={`At a steady ${view.classLabel} and reference conditions. The interval is that of the answer above, turned into energy.`}
    >
      <DataTable
        caption={`Energy over ${trip}; ${setupInText(baseline.title)} draws ${showQuantity(baseline.estimateWhPerKm * TRIP_KM, 'kWh', display)}`}
        rows={view.differences}
        rowKey={(difference) => difference.setup.setupId}
        columns={[
          { key: 'setup', header: 'Setup', rowHeader: true, cell: ({ setup }) => setup.name },
          {
            key: 'difference',
            header: 'Difference',
            unit: 'kWh',
            align: 'end',
            cell: ({ onTripWh }) => onTrip(onTripWh, display)?.value ?? '–',
          },
          {
            key: 'interval',
            header: '95 % interval',
            unit: 'kWh',
            align: 'end',
            cell: ({ onTripWh }) => onTrip(onTripWh, display)?.interval ?? 'no interval',
          },
        ]}
        footnote="An estimate under stated conditions, not a promise of range."
      />
    </Section>
  );
}

function onTrip(wh: SetupDifference['onTripWh'], display: Display) {
  return wh === null
    ? undefined
    : showEstimate({ value: wh.difference, low: wh.low, high: wh.high }, 'kWh', display, { signed: true });
}
