import { DataTable } from '@/app/ui/DataTable';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { formatDuration, formatNumber } from '@/lib/units/format';

const km = (metres: number) => formatNumber(metres / 1000, 2);
const kmh = (mps: number) => formatNumber(mps * 3.6, 1);

/** Legs, stretches of cruise, stops and slow-downs. */
export function TraceTables({ trace }: { trace: RunTraceView }) {
  const { legs, cruiseStretches, stops, slowDowns } = trace;
  return (
    <div className="mb-6 space-y-6">
      {legs.length > 0 ? (
        <DataTable
          caption="Legs by the recording"
          rows={legs}
          rowKey={(leg) => leg.direction}
          columns={[
            { key: 'leg', header: 'Leg', rowHeader: true, cell: (leg) => leg.direction },
            { key: 'length', header: 'Length', unit: 'km', align: 'end', cell: (leg) => km(leg.distanceM) },
            {
              key: 'time',
              header: 'Time',
              unit: 'h:mm:ss',
              align: 'end',
              cell: (leg) => formatDuration(leg.durationS, true),
            },
            {
              key: 'speed',
              header: 'Mean speed',
              unit: 'km/h',
              align: 'end',
              cell: (leg) => kmh(leg.meanSpeedMps),
            },
            {
              key: 'climb',
              header: 'Net climb',
              unit: 'm',
              align: 'end',
              cell: (leg) =>
                leg.netClimbM === null ? '–' : formatNumber(leg.netClimbM, 0, { signed: true }),
            },
          ]}
        />
      ) : null}
      {cruiseStretches.length > 0 ? (
        <DataTable
          caption="Stretches of cruise: half a minute or longer within a tenth of the commonest speed"
          rows={cruiseStretches}
          rowKey={(stretch) => String(stretch.fromM)}
          columns={[
            {
              key: 'from',
              header: 'From',
              unit: 'km',
              align: 'end',
              rowHeader: true,
              cell: (one) => km(one.fromM),
            },
            { key: 'to', header: 'To', unit: 'km', align: 'end', cell: (one) => km(one.toM) },
            {
              key: 'time',
              header: 'Time',
              unit: 'h:mm:ss',
              align: 'end',
              cell: (one) => formatDuration(one.durationS, true),
            },
            {
              key: 'speed',
              header: 'Mean speed',
              unit: 'km/h',
              align: 'end',
              cell: (one) => kmh((one.toM - one.fromM) / one.durationS),
            },
          ]}
        />
      ) : null}
      <DataTable
        caption="Stops of three seconds or longer"
        rows={stops}
        rowKey={(stop) => String(stop.atM)}
        empty="None."
        columns={[
          {
            key: 'at',
            header: 'At',
            unit: 'km',
            align: 'end',
            rowHeader: true,
            cell: (stop) => km(stop.atM),
          },
          {
            key: 'time',
            header: 'Stood',
            unit: 's',
            align: 'end',
            cell: (stop) => formatNumber(stop.durationS, 0),
          },
        ]}
      />
      <DataTable
        caption="Slow-downs of 3 m/s (10.8 km/h) or more, each from crest to trough"
        rows={slowDowns}
        rowKey={(fall) => String(fall.atM)}
        empty="None."
        columns={[
          {
            key: 'at',
            header: 'Trough at',
            unit: 'km',
            align: 'end',
            rowHeader: true,
            cell: (fall) => km(fall.atM),
          },
          { key: 'from', header: 'From', unit: 'km/h', align: 'end', cell: (fall) => kmh(fall.fromMps) },
          { key: 'to', header: 'To', unit: 'km/h', align: 'end', cell: (fall) => kmh(fall.toMps) },
        ]}
      />
    </div>
  );
}
