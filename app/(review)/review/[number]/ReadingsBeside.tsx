import { DataTable } from '@/app/ui/DataTable';
import type { ShownReading } from '@/lib/run/fields/shownReadings';

/** The readings as a photo would show them: text and unit, in the order of the form. */
export function ReadingsBeside({ readings }: { readings: readonly ShownReading[] }) {
  return (
    <DataTable
      caption="As the displays showed them"
      rows={readings}
      rowKey={(reading) => reading.quantity}
      columns={[
        {
          key: 'label',
          header: 'Reading',
          rowHeader: true,
          cell: (reading) => (
            <>
              {reading.label}
              <span className="block text-ink-soft">{reading.instrument}</span>
            </>
          ),
        },
        { key: 'moment', header: 'Moment', cell: (reading) => reading.moment },
        {
          key: 'shown',
          header: 'As shown',
          align: 'end',
          cell: (reading) => (
            <span className="num text-base">
              <strong className="font-semibold">{reading.enteredText}</strong> {reading.enteredUnit}
            </span>
          ),
        },
      ]}
    />
  );
}
