import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Day } from '@/app/ui/When';
import type { MyCalibration } from '@/lib/registry/cars/myCars';

/** Calibrations of a car, the latest first; ended ones stay with the reason. */
export function CalibrationTable({
  carId,
  calibrations,
}: {
  carId: string;
  calibrations: readonly MyCalibration[];
}) {
  return (
    <DataTable
      caption="Calibrations of this car"
      captionHidden
      rows={calibrations}
      rowKey={(one) => one.id}
      empty="None yet."
      columns={[
        { key: 'instrument', header: 'Instrument', rowHeader: true, cell: (one) => one.instrument },
        { key: 'factor', header: 'Factor', align: 'end', cell: (one) => one.factor },
        { key: 'date', header: 'Measured on', cell: (one) => <Day of={one.measuredOn} /> },
        { key: 'method', header: 'Method', wide: true, cell: (one) => one.method },
        { key: 'odometer', header: 'Odometer', align: 'end', cell: (one) => one.odometer || '–' },
        {
          key: 'correct',
          header: 'Wrong?',
          cell: (one) => (
            <Link className="link" href={`/my/cars/${carId}/calibrations/${one.id}`}>
              Correct<span className="sr-only"> the calibration of {one.measuredOn}</span>
            </Link>
          ),
        },
        { key: 'state', header: 'State', cell: (one) => (one.ended ? `Ended ${one.ended}` : 'In force') },
      ]}
    />
  );
}
