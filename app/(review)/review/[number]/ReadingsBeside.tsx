import { DataTable } from '@/app/ui/DataTable';
import { MarkedPart } from '@/app/ui/MarkedPart';
import type { ShownPhoto, ShownReading } from '@/lib/run/fields/shownReadings';
import { markedPhoto } from '@/lib/run/photoMarks';

interface ReadingsBesideProps {
  readings: readonly ShownReading[];
  photos: readonly ShownPhoto[];
}

/** The readings as a photo would show them: text and unit, in the order of the form, above where it is marked. */
export function ReadingsBeside({ readings, photos }: ReadingsBesideProps) {
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
          cell: (reading) => {
            const proof = markedPhoto(photos, reading.quantity);
            return (
              <>
                {reading.label}
                <span className="block text-ink-soft">{reading.instrument}</span>
                {proof ? (
                  <MarkedPart {...proof} label={reading.label} heightRem={3.5} className="mt-1 min-w-28" />
                ) : null}
              </>
            );
          },
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
