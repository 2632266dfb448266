import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { type ProfilePanel, ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { formatQuantity } from '@/lib/units/format';

const TABLE_ROWS = 24;
const LEG_LABELS = { outbound: 'outbound', return: 'return' } as const;

/** Speed and height along the way, and the way itself, all without the hidden ends. */
export function TracePlots({ trace }: { trace: RunTraceView }) {
  const { points, band, turnaroundM, mapLegs } = trace;
  const hidden = `${formatQuantity(trace.trimM, 'm', { decimals: 0 })} around start and finish are not shown.`;
  if (points.length < 2)
    return (
      <p className="my-6 text-ink-soft">Nothing of the track is left to show once its ends are hidden.</p>
    );
  const start = mapLegs[0]?.points[0];
  const turn = mapLegs[1]?.points[0];
  const step = Math.max(1, Math.ceil(points.length / TABLE_ROWS));
  return (
    <>
      <FigureWithTable
        caption={`True speed${points.some(({ heightM }) => heightM !== null) ? ' and height' : ''} along the way. ${hidden}`}
        reading="Shaded stretches are not cruise. The tinted band is the class ± 3 km/h."
        tableCaption="Speed and height along the way, thinned"
        table={{
          columns: [{ header: 'Distance' }, { header: 'Speed' }, { header: 'Height' }],
          rows: points
            .filter((_, index) => index % step === 0)
            .map((point) => [
              formatQuantity(point.distanceM, 'km', { decimals: 1 }),
              formatQuantity(point.speedMps, 'km/h', { decimals: 1 }),
              point.heightM === null ? '–' : formatQuantity(point.heightM, 'm', { decimals: 0 }),
            ]),
        }}
      >
        <ProfilePlot
          title="True speed and height along the way"
          desc={`Recorded over ${formatQuantity(trace.distanceM, 'km', { decimals: 1 })}. ${hidden}`}
          panels={panelsOf(trace, band)}
          markers={turnaroundM === null ? [] : [{ distance: turnaroundM / 1000, label: 'Turnaround' }]}
          offCruise={trace.offCruise.map(({ fromM, toM }) => ({ from: fromM / 1000, to: toM / 1000 }))}
          distanceDomain={[0, trace.distanceM / 1000]}
          distanceLabel="distance, km"
        />
      </FigureWithTable>
      {start ? (
        <figure className="my-6">
          <RouteMap
            title="Track of this run"
            desc={`The recorded way in its true shape, north up. ${hidden}`}
            legs={mapLegs.map((leg) => ({ ...leg, label: LEG_LABELS[leg.key] }))}
            places={turn ? [{ kind: 'turnaround', label: 'Turnaround', ...turn }] : []}
          />
          <figcaption className="mt-3 max-w-[46rem] text-sm">
            The recorded way in metres from its first shown place. {hidden}
          </figcaption>
        </figure>
      ) : null}
    </>
  );
}

function panelsOf({ points }: RunTraceView, band: RunTraceView['band']): ProfilePanel[] {
  const heights = points.flatMap(({ distanceM, heightM }) =>
    heightM === null ? [] : [{ distance: distanceM / 1000, value: heightM }],
  );
  return [
    {
      key: 'speed',
      label: 'True speed, km/h',
      points: points.map(({ distanceM, speedMps }) => ({
        distance: distanceM / 1000,
        value: speedMps * 3.6,
      })),
      ...(band ? { band: { low: band.lowMps * 3.6, high: band.highMps * 3.6 } } : {}),
    },
    ...(heights.length > 1
      ? [{ key: 'height', label: 'Height above sea level, m', filled: true, points: heights }]
      : []),
  ];
}
