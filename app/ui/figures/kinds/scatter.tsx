import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { HitColumn } from '../HitColumn';
import { paint } from '../paint';
import { pathOf, plotArea } from '../plotArea';

export interface ScatterPoint {
  key: string;
  x: number;
  y: number;
  /** Shown hollow: not used in the fit, or another setup. */
  hollow?: boolean;
  /** Said beside the point; for a few points only. */
  label?: string;
  /** Its row in the table. */
  row?: number;
}

/** Points, the fitted line and its band: consumption against speed or temperature. */
export interface ScatterData {
  kind: 'scatter';
  points: readonly ScatterPoint[];
  /** `row`: where the table has the line at this place. */
  line?: readonly { x: number; y: number; row?: number }[];
  band?: readonly { x: number; low: number; high: number }[];
  /** Where the line leaves the reach of the data it is dashed: all of it, where nothing lies within. */
  reach?: readonly [number, number];
  xLabel: string;
  yLabel: string;
  pointLabel?: string;
  hollowLabel?: string;
  lineLabel?: string;
  bandLabel?: string;
  xDomain?: readonly [number, number];
  yDomain?: readonly [number, number];
  formatX?: FormatTick;
  formatY?: FormatTick;
}

export const scatter: FigureKind<ScatterData> = {
  draw: (frame, data) => {
    const { points, line = [], band = [], reach } = data;
    const area = plotArea(frame, {
      ...data,
      xValues: [...points, ...line, ...band].map((p) => p.x),
      yValues: [...[...points, ...line].map((p) => p.y), ...band.flatMap((p) => [p.low, p.high])],
      top: 0,
      height:
        frame.room === undefined
          ? frame.compact
            ? 230
            : 320
          : Math.max(150, frame.room - 3 * frame.text - 36),
    });
    const at = (p: { x: number; y: number }) => ({ x: area.x(p.x), y: area.y(p.y) });
    const edge = [
      ...band.map((p) => at({ x: p.x, y: p.low })),
      ...[...band].reverse().map((p) => at({ x: p.x, y: p.high })),
    ];
    const inside = line.filter((p) => isWithin(reach, p));
    const content = (
      <>
        {area.ground}
        {band.length > 1 ? <Band d={`${pathOf(edge)}Z`} /> : null}
        {reach ? (
          <path
            d={pathOf(line.map(at))}
            fill="none"
            stroke={paint.accent}
            strokeWidth="1.5"
            strokeDasharray="4 4"
          />
        ) : null}
        <path d={pathOf(inside.map(at))} fill="none" stroke={paint.accent} strokeWidth="2" />
        {line.map((p) =>
          p.row === undefined ? null : <HitColumn key={p.x} area={area} {...p} row={p.row} />,
        )}
        {points.map((point) => (
          <g key={point.key}>
            <Point x={area.x(point.x)} y={area.y(point.y)} isHollow={point.hollow} row={point.row} />
            {point.label ? (
              <text
                x={area.x(point.x) + (area.x(point.x) > frame.width * 0.7 ? -8 : 8)}
                y={area.y(point.y) - 6}
                textAnchor={area.x(point.x) > frame.width * 0.7 ? 'end' : 'start'}
              >
                {point.label}
              </text>
            ) : null}
          </g>
        ))}
      </>
    );
    return { height: area.end, content };
  },
  legend: (data) => {
    const { points, line = [], band = [] } = data;
    const entries = [
      {
        label: data.pointLabel ?? 'run',
        show: points.some((p) => !p.hollow),
        mark: <Point x={14} y={6} />,
      },
      {
        label: data.hollowLabel ?? 'run left out of the fit',
        show: points.some((p) => p.hollow),
        mark: <Point x={14} y={6} isHollow />,
      },
      {
        label: data.lineLabel ?? 'fit',
        show: line.length > 1,
        mark: line.some((p) => isWithin(data.reach, p)) ? (
          <path d="M1 6H27" stroke={paint.accent} strokeWidth="2" />
        ) : (
          <path d="M1 6H27" stroke={paint.accent} strokeWidth="1.5" strokeDasharray="4 4" />
        ),
      },
      {
        label: data.bandLabel ?? '95 % interval',
        show: band.length > 1,
        mark: <Band d="M1 1H27V11H1z" />,
      },
    ];
    return entries.filter((entry) => entry.show).map(({ label, mark }) => ({ label, mark }));
  },
};

function isWithin(reach: ScatterData['reach'], { x }: { x: number }): boolean {
  return reach === undefined || (x >= reach[0] && x <= reach[1]);
}

/** Its edge keeps the band where fills are painted over. */
function Band({ d }: { d: string }) {
  return <path d={d} fill={paint['accent-wash']} stroke={paint.accent} strokeWidth=".5" />;
}

function Point({ x, y, isHollow = false, row }: { x: number; y: number; isHollow?: boolean; row?: number }) {
  return (
    <circle
      data-row={row}
      cx={x}
      cy={y}
      r="4"
      fill={isHollow ? paint.paper : paint.ink}
      stroke={isHollow ? paint.ink : paint.paper}
      strokeWidth="1.25"
    />
  );
}
