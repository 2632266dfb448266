import type { FormatTick } from './axis';
import { IntervalMark } from './IntervalMark';
import { Legend } from './Legend';
import { paint } from './paint';
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
      <Legend
        items={[
          {
            label: 'simultaneous 95 % interval',
            mark: <path d="M1 6H27M1 2v8M27 2v8" stroke={paint.accent} strokeWidth="1.25" />,
          },
          ...(rows.some((row) => row.pointwise)
            ? [
                {
                  label: 'pointwise 95 % interval',
                  mark: <path d="M3 6H25" stroke={paint.accent} strokeWidth="3" />,
                },
              ]
            : []),
          ...(rows.some((row) => row.muted)
            ? [
                {
                  label: 'undecided',
                  mark: (
                    <circle
                      cx="14"
                      cy="6"
                      r="4.5"
                      fill={paint.paper}
                      stroke={paint['ink-faint']}
                      strokeWidth="1.5"
                    />
                  ),
                },
              ]
            : []),
        ]}
      />
      {figure}
    </div>
  );
}
