import type { FormatTick } from './axis';
import { Legend } from './Legend';
import { paint } from './paint';
import { pathOf, plotArea } from './plotArea';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';

export interface ScatterPoint {
  key: string;
  x: number;
  y: number;
  /** Shown hollow: not used in the fit, or another setup. */
  hollow?: boolean;
  /** Said beside the point; for a few points only. */
  label?: string;
}

interface ScatterBandProps {
  title: string;
  desc: string;
  points: readonly ScatterPoint[];
  line?: readonly { x: number; y: number }[];
  band?: readonly { x: number; low: number; high: number }[];
  /** Where the line leaves the reach of the data it is dashed. */
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
  target?: FigureTarget;
}

/** Points, the fitted line and its band: consumption against speed or temperature. */
export function ScatterBand(props: ScatterBandProps) {
  const { points, line = [], band = [], reach } = props;
  const figure = (
    <ResponsiveSvg
      title={props.title}
      desc={props.desc}
      target={props.target}
      draw={(frame) => {
        const area = plotArea(frame, {
          xValues: [...points.map((p) => p.x), ...line.map((p) => p.x), ...band.map((p) => p.x)],
          yValues: [
            ...points.map((p) => p.y),
            ...line.map((p) => p.y),
            ...band.flatMap((p) => [p.low, p.high]),
          ],
          xDomain: props.xDomain,
          yDomain: props.yDomain,
          xLabel: props.xLabel,
          yLabel: props.yLabel,
          formatX: props.formatX,
          formatY: props.formatY,
          top: 0,
          height: frame.compact ? 230 : 320,
        });
        const at = (p: { x: number; y: number }) => ({ x: area.x(p.x), y: area.y(p.y) });
        const edge = [
          ...band.map((p) => at({ x: p.x, y: p.low })),
          ...[...band].reverse().map((p) => at({ x: p.x, y: p.high })),
        ];
        const inside = reach ? line.filter((p) => p.x >= reach[0] && p.x <= reach[1]) : line;
        return {
          height: area.end,
          content: (
            <>
              {area.ground}
              {band.length > 1 ? (
                <path
                  d={`${pathOf(edge)}Z`}
                  fill={paint['accent-wash']}
                  stroke={paint.accent}
                  strokeWidth=".5"
                />
              ) : null}
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
              {points.map((point) => (
                <g key={point.key}>
                  <circle
                    cx={area.x(point.x)}
                    cy={area.y(point.y)}
                    r="4"
                    fill={point.hollow ? paint.paper : paint.ink}
                    stroke={point.hollow ? paint.ink : paint.paper}
                    strokeWidth="1.25"
                  />
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
          ),
        };
      }}
    />
  );
  if (props.target === 'file') return figure;
  const entries = [
    {
      label: props.pointLabel ?? 'run',
      show: points.some((p) => !p.hollow),
      mark: <circle cx="14" cy="6" r="4" fill={paint.ink} />,
    },
    {
      label: props.hollowLabel ?? 'run left out of the fit',
      show: points.some((p) => p.hollow),
      mark: <circle cx="14" cy="6" r="4" fill={paint.paper} stroke={paint.ink} strokeWidth="1.25" />,
    },
    {
      label: props.lineLabel ?? 'fit',
      show: line.length > 1,
      mark: <path d="M1 6H27" stroke={paint.accent} strokeWidth="2" />,
    },
    {
      label: props.bandLabel ?? '95 % interval',
      show: band.length > 1,
      mark: <path d="M1 1H27V11H1z" fill={paint['accent-wash']} stroke={paint.accent} strokeWidth=".5" />,
    },
  ];
  return (
    <div>
      <Legend items={entries.filter((entry) => entry.show)} />
      {figure}
    </div>
  );
}
