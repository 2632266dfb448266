import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { type ProfilePanel, ProfilePlot } from '@/app/ui/figures/ProfilePlot';
import { RouteMap } from '@/app/ui/figures/RouteMap';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { type Display, unitFor } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';

const TABLE_ROWS = 24;
const LEG_LABELS = { outbound: 'outbound', return: 'return' } as const;

/** Speed and height along the way, and the way itself, all without the hidden ends. */
export function TracePlots({ trace, display }: { trace: RunTraceView; display: Display }) {
  const { points, band, turnaroundM, mapLegs } = trace;
  const hidden = `${showQuantity(trace.trimM, 'height', display, { decimals: 0 })} around start and finish are not shown.`;
  if (points.length < 2)
    return (
      <p className="my-6 text-ink-soft">Nothing of the track is left to show once its ends are hidden.</p>
    );
  const start = mapLegs[0]?.points[0];
  const turn = mapLegs[1]?.points[0];
  const step = Math.max(1, Math.ceil(points.length / TABLE_ROWS));
  const distance = (metres: number) => fromCanonical(metres, display.distance);
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
              showQuantity(point.distanceM, 'distance', display, { decimals: 1 }),
              showQuantity(point.speedMps, 'speed', display, { decimals: 1 }),
              point.heightM === null ? '–' : showQuantity(point.heightM, 'height', display, { decimals: 0 }),
            ]),
        }}
      >
        <ProfilePlot
          title="True speed and height along the way"
          desc={`Recorded over ${showQuantity(trace.distanceM, 'distance', display, { decimals: 1 })}. ${hidden}`}
          panels={panelsOf(trace, band, display)}
          markers={turnaroundM === null ? [] : [{ distance: distance(turnaroundM), label: 'Turnaround' }]}
          offCruise={trace.offCruise.map(({ fromM, toM }) => ({ from: distance(fromM), to: distance(toM) }))}
          distanceDomain={[0, distance(trace.distanceM)]}
          distanceLabel={`distance, ${unitSymbol(display.distance)}`}
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

function panelsOf({ points }: RunTraceView, band: RunTraceView['band'], display: Display): ProfilePanel[] {
  const distance = (metres: number) => fromCanonical(metres, display.distance);
  const speedUnit = unitFor('speed', display);
  const heights = points.flatMap(({ distanceM, heightM }) =>
    heightM === null
      ? []
      : [{ distance: distance(distanceM), value: fromCanonical(heightM, display.height) }],
  );
  return [
    {
      key: 'speed',
      label: `True speed, ${unitSymbol(speedUnit)}`,
      points: points.map(({ distanceM, speedMps }) => ({
        distance: distance(distanceM),
        value: fromCanonical(speedMps, speedUnit),
      })),
      ...(band
        ? {
            band: {
              low: fromCanonical(band.lowMps, speedUnit),
              high: fromCanonical(band.highMps, speedUnit),
            },
          }
        : {}),
    },
    ...(heights.length > 1
      ? [
          {
            key: 'height',
            label: `Height above sea level, ${unitSymbol(display.height)}`,
            filled: true,
            points: heights,
          },
        ]
      : []),
  ];
}
