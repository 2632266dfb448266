import { IntervalMark } from './IntervalMark';
import { paint } from './paint';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart, type RowSpace } from './rowChart';

export interface WayRow {
  key: string;
  label: string;
  /** Left out where the row is a span of several numbers. */
  estimate?: number;
  ends?: readonly [number, number];
  /** Ready to read: "−3.1 (−5.0 to −1.2)". */
  text: string;
  /** The number that all the others stand beside. */
  strong?: boolean;
}

interface WaysPlotProps {
  title: string;
  desc: string;
  rows: readonly WayRow[];
  axisLabel: string;
  zeroLabel: string;
  target?: FigureTarget;
}

/** One number come by in several ways, on a common axis with the zero line. */
export function WaysPlot({ title, desc, rows, axisLabel, zeroLabel, target }: WaysPlotProps) {
  const values = rows.flatMap(({ estimate, ends = [] }) => [
    ...(estimate === undefined ? [] : [estimate]),
    ...ends,
  ]);
  return (
    <ResponsiveSvg
      title={title}
      desc={desc}
      target={target}
      draw={(frame) =>
        drawRowChart(frame, {
          values,
          axisLabel,
          reference: { value: 0, label: zeroLabel },
          rows: rows.map((row, i) => ({
            key: row.key,
            label: row.label,
            value: row.text,
            strong: row.strong,
            ruled: i === 1,
            marks: (space) => <Mark space={space} row={row} />,
          })),
        })
      }
    />
  );
}

function Mark({ space: { x, y, domain }, row }: { space: RowSpace; row: WayRow }) {
  const [low, high] = row.ends ?? [];
  if (row.estimate !== undefined) {
    return (
      <IntervalMark
        x={x}
        y={y}
        domain={domain}
        estimate={row.estimate}
        low={low}
        high={high}
        muted={!row.strong}
      />
    );
  }
  if (low === undefined || high === undefined) return null;
  return (
    <path
      d={`M${x(low)} ${y}H${x(high)}M${x(low)} ${y - 5}v10M${x(high)} ${y - 5}v10`}
      stroke={paint.ink}
      strokeWidth="1.5"
    />
  );
}
