import type { FigureDescription } from '@/app/ui/figures/description';
import type { ProfilePanel } from '@/app/ui/figures/kinds/profile';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { type Display, unitFor } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { classBandText } from './numbers';
import { type RunOfFigure, runSource } from './runSource';

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;
const LEG_LABELS = { outbound: 'outbound', return: 'return' } as const;

const hiddenWords = (trace: RunTraceView, display: Display) =>
  `${showQuantity(trace.trimM, 'height', display, { decimals: 0 })} around start and finish are not shown.`;

/** Speed and height along the way, without the hidden ends; nothing where nothing is left to show. */
export function traceFigure(
  of: RunOfFigure,
  trace: RunTraceView,
  display: Display,
): FigureDescription | undefined {
  const { points, band, turnaroundM } = trace;
  if (points.length < 2) return undefined;
  const hidden = hiddenWords(trace, display);
  const along = (distanceM: number) => fromCanonical(distanceM, display.distance);
  const hasHeights = points.some(({ heightM }) => heightM !== null);
  const step = Math.max(1, Math.ceil(points.length / TABLE_ROWS));
  const tabulated = points.filter((_, index) => index % step === 0);
  const distance = showQuantity(trace.distanceM, 'distance', display, { decimals: 1 });
  return {
    ...runSource('trace', of, display),
    title: `Run ${of.number}: true speed${hasHeights ? ' and height' : ''} along ${distance}. ${hidden}`,
    desc: `Recorded over ${distance}. ${hidden}`,
    reading: `Shaded stretches are not cruise. The tinted band is the class ${classBandText(display)}.`,
    drawing: {
      kind: 'profile',
      panels: panelsOf(trace, band, display),
      markers: turnaroundM === null ? [] : [{ distance: along(turnaroundM), label: 'Turnaround' }],
      offCruise: trace.offCruise.map(({ fromM, toM }) => ({ from: along(fromM), to: along(toM) })),
      distanceDomain: [0, along(trace.distanceM)],
      distanceLabel: `distance, ${unitSymbol(display.distance)}`,
      tabulated: tabulated.map(({ distanceM }) => along(distanceM)),
    },
    table: {
      caption: 'Speed and height along the way, point by point',
      columns: [
        { header: 'Distance', unit: unitSymbol(display.distance) },
        { header: 'Speed', unit: unitSymbol(unitFor('speed', display)) },
        { header: 'Height', unit: unitSymbol(display.height) },
      ],
      rows: tabulated.map((point) => [
        showQuantity(point.distanceM, 'distance', display, { decimals: 1, bare: true }),
        showQuantity(point.speedMps, 'speed', display, { decimals: 1, bare: true }),
        point.heightM === null
          ? '–'
          : showQuantity(point.heightM, 'height', display, { decimals: 0, bare: true }),
      ]),
    },
  };
}

/** The way itself, without the hidden ends; nothing where it is not shown. */
export function trackFigure(
  of: RunOfFigure,
  trace: RunTraceView,
  display: Display,
): FigureDescription | undefined {
  const { mapLegs } = trace;
  if (trace.points.length < 2 || mapLegs[0]?.points[0] === undefined) return undefined;
  const turn = mapLegs[1]?.points[0];
  const hidden = hiddenWords(trace, display);
  const ofLeg = (key: string) => trace.legs.findIndex(({ direction }) => direction === key);
  return {
    ...runSource('track', of, display),
    title: `Run ${of.number}: the recorded way in metres from its first shown place. ${hidden}`,
    desc: `The recorded way in its true shape, north up. ${hidden}`,
    drawing: {
      kind: 'map',
      legs: mapLegs.map((leg) => {
        const row = ofLeg(leg.key);
        return { ...leg, label: LEG_LABELS[leg.key], ...(row < 0 ? {} : { row }) };
      }),
      places: turn ? [{ kind: 'turnaround', label: 'Turnaround', ...turn }] : [],
    },
    table: {
      caption: 'The legs as recorded',
      columns: [
        { header: 'Leg' },
        { header: 'Length', unit: unitSymbol(display.distance) },
        { header: 'Mean speed', unit: unitSymbol(unitFor('speed', display)) },
        { header: 'Net climb', unit: unitSymbol(display.height) },
      ],
      rows: trace.legs.map((leg) => [
        leg.direction,
        showQuantity(leg.distanceM, 'distance', display, { decimals: 2, bare: true }),
        showQuantity(leg.meanSpeedMps, 'speed', display, { decimals: 1, bare: true }),
        leg.netClimbM === null
          ? '–'
          : showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true, bare: true }),
      ]),
    },
  };
}

function panelsOf({ points }: RunTraceView, band: RunTraceView['band'], display: Display): ProfilePanel[] {
  const along = (distanceM: number) => fromCanonical(distanceM, display.distance);
  const speedUnit = unitFor('speed', display);
  const speed = (mps: number) => fromCanonical(mps, speedUnit);
  const heights = points.flatMap(({ distanceM, heightM }) =>
    heightM === null ? [] : [{ distance: along(distanceM), value: fromCanonical(heightM, display.height) }],
  );
  return [
    {
      key: 'speed',
      label: `true speed, ${unitSymbol(speedUnit)}`,
      points: points.map(({ distanceM, speedMps }) => ({
        distance: along(distanceM),
        value: speed(speedMps),
      })),
      ...(band ? { band: { low: speed(band.lowMps), high: speed(band.highMps) } } : {}),
    },
    ...(heights.length > 1
      ? [
          {
            key: 'height',
            label: `height above sea level, ${unitSymbol(display.height)}`,
            filled: true,
            points: heights,
          },
        ]
      : []),
  ];
}
