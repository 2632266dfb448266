import type { FormatTick } from './axis';
import { IntervalMark } from './IntervalMark';
import { Legend, type LegendItem } from './Legend';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart } from './rowChart';

export interface ForestRow {
  key: string;
  label: string;
  estimate: number;
  /** The interval for this difference taken alone. */
  pointwise?: readonly [number, number];
  /** The wider interval that holds for all differences shown at once. */
  simultaneous: readonly [number, number];
  /** The difference with its interval, ready to read: "−3.1 % (−5.0 to −1.2)". */
  text: string;
  /** "settled", "undecided", "indirect over 2 cars". */
  note?: string;
  /** Set where the difference is undecided. */
  muted?: boolean;
}

interface ForestPlotProps {
  title: string;
  desc: string;
  rows: readonly ForestRow[];
  /** For example "Difference from standard height, %". */
  axisLabel: string;
  domain?: readonly [number, number];
  /** Said over the zero line. */
  zeroLabel?: string;
  formatTick?: FormatTick;
  target?: FigureTarget;
}

/** Differences against no difference: does the interval reach over the line? */
export function ForestPlot(props: ForestPlotProps) {
  const { rows, zeroLabel = 'no difference' } = props;
  const values = rows.flatMap((row) => [row.estimate, ...row.simultaneous, ...(row.pointwise ?? [])]);
  const figure = (
    <ResponsiveSvg
      title={props.title}
      desc={props.desc}
      target={props.target}
      draw={(frame) =>
        drawRowChart(frame, {
          values,
          domain: props.domain,
          axisLabel: props.axisLabel,
          formatTick: props.formatTick,
          reference: { value: 0, label: zeroLabel },
          rows: rows.map((row) => ({
            key: row.key,
            label: row.label,
            value: row.text,
            note: row.note,
            muted: row.muted,
            marks: ({ x, y, domain }) => (
              <IntervalMark
                x={x}
                y={y}
                domain={domain}
                estimate={row.estimate}
                low={row.pointwise?.[0]}
                high={row.pointwise?.[1]}
                outerLow={row.simultaneous[0]}
                outerHigh={row.simultaneous[1]}
                muted={row.muted}
              />
            ),
          })),
        })
      }
    />
  );
  if (props.target === 'file') return figure;
  return (
    <div>
      <Legend items={forestLegend(rows)} />
      {figure}
    </div>
  );
}

/** The legend's marks are those of the rows, on an axis as wide as the legend's box. */
const own = { x: (value: number) => value, y: 6, domain: [0, 28], estimate: Number.NaN } as const;

function forestLegend(rows: readonly ForestRow[]): LegendItem[] {
  const items = [
    {
      label: 'simultaneous 95 % interval',
      show: true,
      mark: <IntervalMark {...own} outerLow={1} outerHigh={27} />,
    },
    {
      label: 'pointwise 95 % interval',
      show: rows.some((row) => row.pointwise),
      mark: <IntervalMark {...own} low={3} high={25} />,
    },
    {
      label: 'undecided',
      show: rows.some((row) => row.muted),
      mark: <IntervalMark {...own} estimate={14} low={3} high={25} muted />,
    },
  ];
  return items.filter((item) => item.show).map(({ label, mark }) => ({ label, mark }));
}
