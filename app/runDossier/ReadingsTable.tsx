import { DataTable } from '@/app/ui/DataTable';
import type { ShownReading } from '@/lib/run/fields/shownReadings';
import { formatInterval, formatQuantity } from '@/lib/units/format';
import { spreadFromCanonical } from '@/lib/units/unit';
import { decimalsFor } from './numbers';

/** Every number as its display showed it, as it was understood, and between what its rounding leaves it. */
export function ReadingsTable({ readings }: { readings: readonly ShownReading[] }) {
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
          cell: (reading) => formatQuantity(reading.value, reading.unit, { decimals: decimalsOf(reading) }),
        },
        {
          key: 'interval',
          header: 'Rounding interval',
          align: 'end',
          cell: (reading) =>
            formatInterval(reading.low, reading.high, reading.unit, { decimals: decimalsOf(reading) }),
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
  return decimalsFor(half, 0, 4);
}
