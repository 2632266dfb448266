import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import { heightAlong } from '@/app/ui/figures/heightAlong';
import type { LoopView } from '@/lib/registry/loops/loop';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import { showNumber, showQuantity } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { hrefWith } from '../../rankings/query';

const LEG_LABELS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    outbound: 'outbound',
    return: 'return',
    route: 'route',
  }),
);

function sourceOf(
  kind: string,
  loop: LoopView,
  display: Display,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo' | 'mark'> {
  const said = Object.fromEntries(displayParameters(display));
  return {
    address: { kind, key: loop.slug, query: said },
    // A loop has no fit of its own: it holds as of the day on which it is drawn.
    source: { path: hrefWith(`/loops/${loop.slug}`, {}, said), asOf: dateText(new Date()) },
    isDemo: loop.world === 'demo',
    mark: display.mark,
  };
}

const lengthOf = (loop: LoopView, display: Display) =>
  showQuantity(loop.lengthM, 'distance', display, { decimals: 1 });

/** The route in its true shape, and its legs. */
export function routeFigure(loop: LoopView, display: Display): FigureDescription {
  const start = loop.outline[0]?.points[0];
  const turn = loop.outline.length === 2 ? loop.outline[1]?.points[0] : undefined;
  return {
    ...sourceOf('route', loop, display),
    title: `${loop.name}: ${lengthOf(loop, display)} out to ${loop.turnaround} and back.`,
    desc: `${lengthOf(loop, display)} out and back, turning at ${loop.turnaround}, in its true shape, north up.`,
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
        showQuantity(leg.lengthM, 'distance', display, { decimals: 2 }),
        showQuantity(leg.netClimbM, 'height', display, { decimals: 0, signed: true }),
        leg.mainBearingDeg === null ? 'not known' : `${showNumber(leg.mainBearingDeg, 0, display)}°`,
      ]),
    },
  };
}

/** Height above sea level along the way; nothing where no profile is stored. */
export function elevationFigure(loop: LoopView, display: Display): FigureDescription | undefined {
  const { elevation } = loop;
  if (elevation.length < 2) return undefined;
  const heights = elevation.map((point) => point.heightM);
  const height = (heightM: number) => showQuantity(heightM, 'height', display, { decimals: 0, bare: true });
  const climb =
    loop.grossClimbM === null
      ? ''
      : `, ${showQuantity(loop.grossClimbM, 'height', display, { decimals: 0 })} of climb in all`;
  return {
    ...sourceOf('elevation', loop, display),
    title: `${loop.name} lies between ${height(Math.min(...heights))} and ${height(Math.max(...heights))} ${unitSymbol(display.height)} above sea level${climb}.`,
    desc: `Height above sea level along ${lengthOf(loop, display)} of way, out and back.`,
    counts: `${elevation.length} heights along ${lengthOf(loop, display)}`,
    ...heightAlong(elevation, loop.turnaroundAtM, display),
  };
}

/** Which way the road runs. */
export function directionsFigure(loop: LoopView, display: Display): FigureDescription {
  const sectors = [...loop.bearings].sort((a, b) => a.bearingDeg - b.bearingDeg);
  return {
    ...sourceOf('directions', loop, display),
    title: `Which way ${loop.name} runs, by distance, both legs together.`,
    desc: sectors
      .map(({ bearingDeg, share }) => `${bearingDeg}°: ${showNumber(100 * share, 1, display)} %`)
      .join('. '),
    counts: `${lengthOf(loop, display)}, both legs · the area of a petal shows its share`,
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
        `${showNumber(bearingDeg, 0, display)}°`,
        showNumber(100 * share, 1, display),
      ]),
    },
  };
}

/** From where the wind came on the loop's approved runs; nothing where none had any. */
export function windFigure(loop: LoopView, display: Display): FigureDescription | undefined {
  const { wind } = loop;
  if (wind.runs === 0) return undefined;
  const blown = wind.sectors.filter((sector) => sector.runs > 0);
  const summary =
    wind.without === 0
      ? `Wind of ${wind.runs === 1 ? 'the one approved run' : `all ${wind.runs} approved runs`}.`
      : `Wind of ${countText({ runs: wind.runs })}; ${wind.without} more ${wind.without === 1 ? 'was' : 'were'} calm or had no direction reported.`;
  return {
    ...sourceOf('wind', loop, display),
    title: `Where the wind came from on ${loop.name}. ${summary}`,
    desc: blown
      .map(({ bearingDeg, runs }) => `${showNumber(bearingDeg, 0, display)}°: ${runs} runs`)
      .join('. '),
    reading: 'The area of a petal shows its share.',
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
      columns: [
        { header: 'Wind from' },
        { header: 'Runs' },
        { header: 'Mean speed at 10 m', unit: unitSymbol(display.wind) },
      ],
      rows: blown.map((sector) => [
        `${showNumber(sector.bearingDeg, 0, display)}°`,
        String(sector.runs),
        showQuantity(sector.meanSpeedMps, 'wind', display, {
          decimals: display.wind === 'm/s' ? 1 : 0,
          bare: true,
        }),
      ]),
    },
  };
}
