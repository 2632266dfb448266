import { paint } from '@/app/ui/figures/paint';
import { ResponsiveSvg } from '@/app/ui/figures/ResponsiveSvg';
import { drawRowChart } from '@/app/ui/figures/rowChart';

interface MandelStripProps {
  title: string;
  desc: string;
  axisLabel: string;
  rows: readonly { key: string; label: string; value: number; text: string; verdict: string }[];
  critical: { straggler: number; outlier: number };
  /** h runs to both sides of 0, k from 0 upward. */
  bothSides: boolean;
}

/** One statistic of each car on one axis; ticks stand where a straggler and an outlier begin. */
export function MandelStrip(props: MandelStripProps) {
  const { critical, bothSides } = props;
  const limits = bothSides ? [critical.straggler, -critical.straggler] : [critical.straggler];
  const outer = bothSides ? [critical.outlier, -critical.outlier] : [critical.outlier];
  return (
    <ResponsiveSvg
      title={props.title}
      desc={props.desc}
      draw={(frame) =>
        drawRowChart(frame, {
          values: [0, ...props.rows.map((row) => row.value), ...limits, ...outer],
          axisLabel: props.axisLabel,
          rows: props.rows.map((row) => ({
            key: row.key,
            label: row.label,
            value: row.text,
            note: row.verdict === 'consistent' ? undefined : row.verdict,
            strong: row.verdict !== 'consistent',
            marks: ({ x, y }) => (
              <g>
                <path d={`M${x(0)} ${y}H${x(row.value)}`} stroke={paint.accent} strokeWidth="3" />
                <path
                  d={limits.map((limit) => `M${x(limit)} ${y - 7}v14`).join('')}
                  stroke={paint['ink-soft']}
                  strokeDasharray="3 2"
                />
                <path d={outer.map((limit) => `M${x(limit)} ${y - 7}v14`).join('')} stroke={paint.ink} />
                <circle cx={x(row.value)} cy={y} r="4.5" fill={paint.accent} stroke={paint.paper} />
              </g>
            ),
          })),
        })
      }
    />
  );
}
