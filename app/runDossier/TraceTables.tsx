import { DataTable } from '@/app/ui/DataTable';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { type Display, unitFor } from '@/lib/units/display';
import { formatDuration } from '@/lib/units/format';
import { showNumber, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';

/** Legs, stretches of cruise, stops and slow-downs. */
export function TraceTables({ trace, display }: { trace: RunTraceView; display: Display }) {
  const km = (metres: number) => showQuantity(metres, 'distance', display, { decimals: 2, bare: true });
  const kmh = (mps: number) => showQuantity(mps, 'speed', display, { decimals: 1, bare: true });
  const distanceSymbol = unitSymbol(unitFor('distance', display));
  const speedSymbol = unitSymbol(unitFor('speed', display));
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
            {
              key: 'length',
              header: 'Length',
              unit: distanceSymbol,
              align: 'end',
              cell: (leg) => km(leg.distanceM),
            },
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
              unit: speedSymbol,
              align: 'end',
              cell: (leg) => kmh(leg.meanSpeedMps),
            },
            {
              key: 'climb',
              header: 'Net climb',
              unit: unitSymbol(display.height),
              align: 'end',
              cell: (leg) =>
                leg.netClimbM === null
                  ? '–'
                  : showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true, bare: true }),
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
              unit: distanceSymbol,
              align: 'end',
              rowHeader: true,
              cell: (one) => km(one.fromM),
            },
            { key: 'to', header: 'To', unit: distanceSymbol, align: 'end', cell: (one) => km(one.toM) },
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
              unit: speedSymbol,
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
            unit: distanceSymbol,
            align: 'end',
            rowHeader: true,
            cell: (stop) => km(stop.atM),
          },
          {
            key: 'time',
            header: 'Stood',
            unit: 's',
            align: 'end',
            cell: (stop) => showNumber(stop.durationS, 0, display),
          },
        ]}
      />
      <DataTable
        caption="Slow-downs by braking, each from its crest to its trough"
        rows={slowDowns}
        rowKey={(fall) => String(fall.atM)}
        empty="None."
        columns={[
          {
            key: 'at',
            header: 'Trough at',
            unit: distanceSymbol,
            align: 'end',
            rowHeader: true,
            cell: (fall) => km(fall.atM),
          },
          { key: 'from', header: 'From', unit: speedSymbol, align: 'end', cell: (fall) => kmh(fall.fromMps) },
          { key: 'to', header: 'To', unit: speedSymbol, align: 'end', cell: (fall) => kmh(fall.toMps) },
        ]}
      />
    </div>
  );
}
