import { DataTable } from '@/app/ui/DataTable';
import type { ShownReading } from '@/lib/run/fields/shownReadings';
import { placeForUncertainty } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { showInterval, showQuantity } from '@/lib/units/show';
import { spreadFromCanonical } from '@/lib/units/unit';

/** Every number as its display showed it, as it was understood, and between what its rounding leaves it. */
export function ReadingsTable({
  readings,
  display,
}: {
  readings: readonly ShownReading[];
  display: Display;
}) {
  return (
    <DataTable
      caption="Each reading with its rounding interval"
      captionHidden
      rows={readings}
      rowKey={(reading) => reading.quantity}
      empty="No readings were kept."
      columns={[
        { key: 'label', header: 'Reading', rowHeader: true, cell: (reading) => reading.label },
        {
          key: 'shown',
          header: 'As shown',
          align: 'end',
          cell: (reading) => (
            <span className="num">
              <strong className="font-semibold">{reading.enteredText}</strong> {reading.enteredUnit}
            </span>
          ),
        },
        {
          key: 'value',
          header: 'In base units',
          align: 'end',
          cell: (reading) =>
            reading.unit === 's'
              ? formatDuration(reading.value, true)
              : showQuantity(reading.value, reading.unit, display, { decimals: decimalsOf(reading) }),
        },
        {
          key: 'interval',
          header: 'Rounding interval',
          align: 'end',
          cell: (reading) =>
            reading.unit === 's'
              ? `${formatDuration(reading.low, true)} to ${formatDuration(reading.high, true)}`
              : showInterval(reading.low, reading.high, reading.unit, display, {
                  decimals: decimalsOf(reading),
                }),
        },
        { key: 'instrument', header: 'Instrument', cell: (reading) => reading.instrument },
        { key: 'moment', header: 'Moment', cell: (reading) => reading.moment },
      ]}
    />
  );
}

/** Enough to see the ends of the rounding interval apart, and no more. */
function decimalsOf(reading: ShownReading): number {
  const half = spreadFromCanonical((reading.high - reading.low) / 2, reading.unit, reading.value);
  return half > 0 ? Math.min(4, Math.max(0, placeForUncertainty(half))) : 0;
}
