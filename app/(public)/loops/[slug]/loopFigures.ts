import type { FigureDescription } from '@/app/ui/figures/description';
import type { LoopView } from '@/lib/registry/loops/loop';
import { dateText } from '@/lib/run/localDate';
import { formatNumber, formatQuantity } from '@/lib/units/format';

const LEG_LABELS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    outbound: 'outbound',
    return: 'return',
    route: 'route',
  }),
);

/** Every so many points go into the table: the figure has them all. */
const TABLE_ROWS = 24;

function sourceOf(kind: string, loop: LoopView): Pick<FigureDescription, 'address' | 'source' | 'isDemo'> {
  return {
    address: { kind, key: loop.slug },
    // A loop has no fit of its own: it holds as of the day on which it is drawn.
    source: { path: `/loops/${loop.slug}`, asOf: dateText(new Date()) },
    isDemo: loop.world === 'demo',
  };
}

const lengthOf = (loop: LoopView) => formatQuantity(loop.lengthM, 'km', { decimals: 1 });

/** The route in its true shape, and its legs. */
export function routeFigure(loop: LoopView): FigureDescription {
  const start = loop.outline[0]?.points[0];
  const turn = loop.outline.length === 2 ? loop.outline[1]?.points[0] : undefined;
  return {
    ...sourceOf('route', loop),
    title: `${loop.name}: ${lengthOf(loop)} out to ${loop.turnaround} and back.`,
    desc: `${lengthOf(loop)} out and back, turning at ${loop.turnaround}, in its true shape, north up.`,
    counts: `${loop.legs.length} legs · in its true shape, north up`,
    drawing:
      start === undefined
        ? {
            kind: 'none',
            why: 'No outline that can be read is stored for this loop. A positioning trace of a run brings one.',
          }
        : {
            kind: 'map',
            legs: loop.outline.map((leg) => {
              const row = loop.legs.findIndex(({ direction }) => direction === leg.key);
              return {
                key: leg.key,
                label: LEG_LABELS.get(leg.key) ?? leg.key,
                points: leg.points.map(({ x, y }) => ({ eastM: x, northM: y })),
                ...(row < 0 ? {} : { row }),
              };
            }),
            places: [
              { kind: 'start', label: 'Start', eastM: start.x, northM: start.y },
              ...(turn
                ? [{ kind: 'turnaround' as const, label: loop.turnaround, eastM: turn.x, northM: turn.y }]
                : []),
            ],
          },
    table: {
      caption: `Legs of ${loop.name}`,
      columns: [
        { header: 'Leg' },
        { header: 'Length' },
        { header: 'Net climb' },
        { header: 'Mean direction' },
      ],
      rows: loop.legs.map((leg) => [
        LEG_LABELS.get(leg.direction) ?? leg.direction,
        formatQuantity(leg.lengthM, 'km', { decimals: 2 }),
        formatQuantity(leg.netClimbM, 'm', { decimals: 0, signed: true }),
        leg.mainBearingDeg === null ? 'not known' : `${formatNumber(leg.mainBearingDeg, 0)}°`,
      ]),
    },
  };
}

/** Height above sea level along the way; nothing where no profile is stored. */
export function elevationFigure(loop: LoopView): FigureDescription | undefined {
  const { elevation } = loop;
  if (elevation.length < 2) return undefined;
  const heights = elevation.map((point) => point.heightM);
  const step = Math.max(1, Math.ceil(elevation.length / TABLE_ROWS));
  const tabulated = elevation.filter((_, index) => index % step === 0);
  const climb =
    loop.grossClimbM === null
      ? ''
      : `, ${formatQuantity(loop.grossClimbM, 'm', { decimals: 0 })} of climb in all`;
  return {
    ...sourceOf('elevation', loop),
    title: `${loop.name} lies between ${formatNumber(Math.min(...heights), 0)} and ${formatNumber(Math.max(...heights), 0)} m above sea level${climb}.`,
    desc: `Height above sea level along ${lengthOf(loop)} of way, out and back.`,
    counts: `${elevation.length} heights along ${lengthOf(loop)}`,
    drawing: {
      kind: 'profile',
      panels: [
        {
          key: 'height',
          label: 'height above sea level, m',
          filled: true,
          points: elevation.map((point) => ({ distance: point.distanceM / 1000, value: point.heightM })),
        },
      ],
      markers: [{ distance: loop.turnaroundAtM / 1000, label: 'Turnaround' }],
      distanceLabel: 'distance, km',
      tabulated: tabulated.map(({ distanceM }) => distanceM / 1000),
    },
    table: {
      caption: 'Height along the way, thinned',
      columns: [
        { header: 'Distance', unit: 'km' },
        { header: 'Height', unit: 'm' },
      ],
      rows: tabulated.map((point) => [
        formatNumber(point.distanceM / 1000, 1),
        formatNumber(point.heightM, 0),
      ]),
    },
  };
}

/** Which way the road runs. */
export function directionsFigure(loop: LoopView): FigureDescription {
  const sectors = [...loop.bearings].sort((a, b) => a.bearingDeg - b.bearingDeg);
  return {
    ...sourceOf('directions', loop),
    title: `Which way ${loop.name} runs, by distance, both legs together.`,
    desc: sectors
      .map(({ bearingDeg, share }) => `${bearingDeg}°: ${formatNumber(100 * share, 1)} %`)
      .join('. '),
    counts: `${lengthOf(loop)}, both legs · the area of a petal goes with its share`,
    drawing:
      sectors.length === 0
        ? { kind: 'none', why: 'No directions that can be read are stored for this loop.' }
        : {
            kind: 'rose',
            sectors: sectors.map((sector, row) => ({ ...sector, row })),
            sectorWidthDeg: loop.bearingWidthDeg,
            label: 'share of the distance',
          },
    table: {
      caption: 'Directions of the route',
      columns: [{ header: 'Direction of travel' }, { header: 'Share of the way', unit: '%' }],
      rows: sectors.map(({ bearingDeg, share }) => [
        `${formatNumber(bearingDeg, 0)}°`,
        formatNumber(100 * share, 1),
      ]),
    },
  };
}

/** From where the wind came on the loop's approved runs; nothing where none had any. */
export function windFigure(loop: LoopView): FigureDescription | undefined {
  const { wind } = loop;
  if (wind.runs === 0) return undefined;
  const blown = wind.sectors.filter((sector) => sector.runs > 0);
  const summary =
    wind.without === 0
      ? `Wind of all ${wind.runs} approved runs.`
      : `Wind of ${wind.runs} runs; ${wind.without} more were calm or had no direction reported.`;
  return {
    ...sourceOf('wind', loop),
    title: `From where the wind came on ${loop.name}. ${summary}`,
    desc: blown.map(({ bearingDeg, runs }) => `${formatNumber(bearingDeg, 0)}°: ${runs} runs`).join('. '),
    reading: 'The area of a petal goes with its share.',
    counts: `${wind.runs} approved runs with wind`,
    drawing: {
      kind: 'rose',
      sectors: wind.sectors.map((sector) => {
        const row = blown.indexOf(sector);
        return { ...sector, ...(row < 0 ? {} : { row }) };
      }),
      sectorWidthDeg: wind.sectorWidthDeg,
      label: 'share of the runs, wind from',
    },
    table: {
      caption: 'Wind of the approved runs',
      columns: [{ header: 'Wind from' }, { header: 'Runs' }, { header: 'Mean speed at 10 m', unit: 'm/s' }],
      rows: blown.map((sector) => [
        `${formatNumber(sector.bearingDeg, 0)}°`,
        String(sector.runs),
        formatNumber(sector.meanSpeedMps, 1),
      ]),
    },
  };
}
