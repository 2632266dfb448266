import type { FigureDescription } from '@/app/ui/figures/description';
import type { ProfilePanel } from '@/app/ui/figures/kinds/profile';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import { formatNumber, formatQuantity } from '@/lib/units/format';
import { type RunOfFigure, runSource } from './runSource';

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;
const LEG_LABELS = { outbound: 'outbound', return: 'return' } as const;

const hiddenWords = (trace: RunTraceView) =>
  `${formatQuantity(trace.trimM, 'm', { decimals: 0 })} around start and finish are not shown.`;

/** Speed and height along the way, without the hidden ends; nothing where nothing is left to show. */
export function traceFigure(of: RunOfFigure, trace: RunTraceView): FigureDescription | undefined {
  const { points, band, turnaroundM } = trace;
  if (points.length < 2) return undefined;
  const hidden = hiddenWords(trace);
  const hasHeights = points.some(({ heightM }) => heightM !== null);
  const step = Math.max(1, Math.ceil(points.length / TABLE_ROWS));
  const tabulated = points.filter((_, index) => index % step === 0);
  const distance = formatQuantity(trace.distanceM, 'km', { decimals: 1 });
  return {
    ...runSource('trace', of),
    title: `Run ${of.number}: true speed${hasHeights ? ' and height' : ''} along ${distance}. ${hidden}`,
    desc: `Recorded over ${distance}. ${hidden}`,
    reading: 'Shaded stretches are not cruise. The tinted band is the class ± 3 km/h.',
    drawing: {
      kind: 'profile',
      panels: panelsOf(trace, band),
      markers: turnaroundM === null ? [] : [{ distance: turnaroundM / 1000, label: 'Turnaround' }],
      offCruise: trace.offCruise.map(({ fromM, toM }) => ({ from: fromM / 1000, to: toM / 1000 })),
      distanceDomain: [0, trace.distanceM / 1000],
      distanceLabel: 'distance, km',
      tabulated: tabulated.map(({ distanceM }) => distanceM / 1000),
    },
    table: {
      caption: 'Speed and height along the way, thinned',
      columns: [
        { header: 'Distance', unit: 'km' },
        { header: 'Speed', unit: 'km/h' },
        { header: 'Height', unit: 'm' },
      ],
      rows: tabulated.map((point) => [
        formatNumber(point.distanceM / 1000, 1),
        formatNumber(point.speedMps * 3.6, 1),
        point.heightM === null ? '–' : formatNumber(point.heightM, 0),
      ]),
    },
  };
}

/** The way itself, without the hidden ends; nothing where it is not shown. */
export function trackFigure(of: RunOfFigure, trace: RunTraceView): FigureDescription | undefined {
  const { mapLegs } = trace;
  if (trace.points.length < 2 || mapLegs[0]?.points[0] === undefined) return undefined;
  const turn = mapLegs[1]?.points[0];
  const hidden = hiddenWords(trace);
  const ofLeg = (key: string) => trace.legs.findIndex(({ direction }) => direction === key);
  return {
    ...runSource('track', of),
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
        { header: 'Length', unit: 'km' },
        { header: 'Mean speed', unit: 'km/h' },
        { header: 'Net climb', unit: 'm' },
      ],
      rows: trace.legs.map((leg) => [
        leg.direction,
        formatNumber(leg.distanceM / 1000, 2),
        formatNumber(leg.meanSpeedMps * 3.6, 1),
        leg.netClimbM === null ? '–' : formatNumber(leg.netClimbM, 0, { signed: true }),
      ]),
    },
  };
}

function panelsOf({ points }: RunTraceView, band: RunTraceView['band']): ProfilePanel[] {
  const heights = points.flatMap(({ distanceM, heightM }) =>
    heightM === null ? [] : [{ distance: distanceM / 1000, value: heightM }],
  );
  return [
    {
      key: 'speed',
      label: 'true speed, km/h',
      points: points.map(({ distanceM, speedMps }) => ({
        distance: distanceM / 1000,
        value: speedMps * 3.6,
      })),
      ...(band ? { band: { low: band.lowMps * 3.6, high: band.highMps * 3.6 } } : {}),
    },
    ...(heights.length > 1
      ? [{ key: 'height', label: 'height above sea level, m', filled: true, points: heights }]
      : []),
  ];
}
