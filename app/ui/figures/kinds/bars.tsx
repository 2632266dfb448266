import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { plotArea } from '../plotArea';
import type { Frame } from '../ResponsiveSvg';

/** How many fall into each of equal parts, against the height at which all would be alike. */
export interface BarsData {
  kind: 'bars';
  /** One bar each, side by side over equal parts of the axis. */
  counts: readonly number[];
  /** Where the tops would stand if all were alike, and between which ends nearly all would. */
  level: { value: number; low: number; high: number; label: string; bandLabel: string };
  /** Ends of the axis under the bars. */
  from: number;
  to: number;
  axisLabel: string;
  countLabel: string;
}

export const bars: FigureKind<BarsData> = {
  draw: drawBars,
  legend: ({ level }) => [
    {
      label: level.label,
      mark: <path d="M1 6H27" stroke={paint.ink} strokeWidth="1.5" strokeDasharray="5 3" />,
    },
    {
      label: level.bandLabel,
      mark: <path d="M1 6H27" stroke={paint['accent-wash']} strokeWidth="12" />,
    },
  ],
};

function drawBars(frame: Frame, { counts, level, from, to, axisLabel, countLabel }: BarsData) {
  const most = Math.max(level.high, ...counts);
  const area = plotArea(frame, {
    xValues: [from, to],
    yValues: [0, most],
    xDomain: [from, to],
    yDomain: [0, most * 1.05],
    xLabel: axisLabel,
    yLabel: countLabel,
    top: 0,
    height: frame.compact ? 150 : 190,
  });
  const width = (to - from) / counts.length;
  const content = (
    <>
      {area.ground}
      <rect
        x={area.left}
        y={area.y(level.high)}
        width={area.right - area.left}
        height={area.y(level.low) - area.y(level.high)}
        fill={paint['accent-wash']}
      />
      {counts.map((count, i) => {
        const left = area.x(from + i * width) + 1.5;
        return (
          <rect
            // biome-ignore lint/suspicious/noArrayIndexKey: a bar is its place and never moves
            key={i}
            data-row={i}
            x={left}
            y={area.y(count)}
            width={Math.max(1, area.x(from + (i + 1) * width) - left - 1.5)}
            height={area.bottom - area.y(count)}
            fill={paint['ink-faint']}
            fillOpacity="0.75"
          />
        );
      })}
      <path
        d={`M${area.left} ${area.y(level.value)}H${area.right}`}
        stroke={paint.ink}
        strokeWidth="1.5"
        strokeDasharray="5 3"
      />
    </>
  );
  return { height: area.end, content };
}
