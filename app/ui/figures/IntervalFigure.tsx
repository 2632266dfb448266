import type { FormatTick } from './axis';
import { IntervalMark } from './IntervalMark';
import type { IntervalRow } from './intervalRow';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart } from './rowChart';

interface IntervalFigureProps {
  title: string;
  desc: string;
  rows: readonly IntervalRow[];
  axisLabel: string;
  domain?: readonly [number, number];
  reference?: { value: number; label: string };
  formatTick?: FormatTick;
  target?: FigureTarget;
}

/** Estimates with intervals as one drawing, for files and embeds; pages of rows use IntervalPlot. */
export function IntervalFigure(props: IntervalFigureProps) {
  const values = props.rows.flatMap((row) => [
    row.estimate,
    row.low ?? row.estimate,
    row.high ?? row.estimate,
  ]);
  return (
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
          reference: props.reference,
          rows: props.rows.map((row) => ({
            key: row.key,
            label: row.label,
            value: row.intervalText ? `${row.text} (${row.intervalText})` : row.text,
            detail: row.counts,
            muted: row.muted,
            marks: ({ x, y, domain }) => (
              <IntervalMark
                x={x}
                y={y}
                domain={domain}
                estimate={row.estimate}
                low={row.low}
                high={row.high}
                muted={row.muted}
              />
            ),
          })),
        })
      }
    />
  );
}
