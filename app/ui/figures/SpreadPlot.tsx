import { paint } from './paint';
import { ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart } from './rowChart';

export interface SpreadPlotRow {
  key: string;
  label: string;
  detail?: string;
  low: number;
  high: number;
  /** The two ends, ready to read. */
  text: string;
}

interface SpreadPlotProps {
  title: string;
  desc: string;
  rows: readonly SpreadPlotRow[];
  axisLabel: string;
}

/**
 * How far single values may lie: a hollow band with open ends and nothing in its middle, so that nobody takes it for an
 * estimate on its interval.
 */
export function SpreadPlot({ title, desc, rows, axisLabel }: SpreadPlotProps) {
  return (
    <ResponsiveSvg
      title={title}
      desc={desc}
      draw={(frame) =>
        drawRowChart(frame, {
          values: rows.flatMap((row) => [row.low, row.high]),
          axisLabel,
          rows: rows.map((row) => ({
            key: row.key,
            label: row.label,
            detail: row.detail,
            value: row.text,
            marks: ({ x, y }) => <OpenBand from={x(row.low)} to={x(row.high)} y={y} />,
          })),
        })
      }
    />
  );
}

const HALF_HEIGHT = 5;

function OpenBand({ from, to, y }: { from: number; to: number; y: number }) {
  const [top, bottom] = [y - HALF_HEIGHT, y + HALF_HEIGHT];
  return (
    <>
      <path d={`M${from} ${top}H${to}V${bottom}H${from}z`} fill={paint.wash} />
      <path
        d={`M${from} ${top}H${to}M${from} ${bottom}H${to}`}
        stroke={paint['ink-soft']}
        strokeWidth="1.25"
        strokeDasharray="2 3"
        fill="none"
      />
    </>
  );
}
