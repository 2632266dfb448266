import { Legend } from '@/app/ui/figures/Legend';
import { paint } from '@/app/ui/figures/paint';
import { ResponsiveSvg } from '@/app/ui/figures/ResponsiveSvg';
import { drawRowChart } from '@/app/ui/figures/rowChart';
import { dayWords } from '@/lib/run/localDate';
import type { SpreadRow } from './spreadRows';

interface SpreadStripProps {
  title: string;
  desc: string;
  rows: readonly SpreadRow[];
  /** In the reader's unit. */
  shown: (whPerKm: number) => number;
  estimate: { value: number; label: string };
  axisLabel: string;
}

/** A ring for the mean, a diamond for what the model makes of it: the line between them is what it does not believe. */
export function SpreadStrip({ title, desc, rows, shown, estimate, axisLabel }: SpreadStripProps) {
  return (
    <div>
      <Legend
        items={[
          { label: 'mean as normalised', mark: <MeanMark x={14} y={6} /> },
          { label: 'as the model believes', mark: <BelievedMark x={14} y={6} /> },
        ]}
      />
      <ResponsiveSvg
        title={title}
        desc={desc}
        draw={(frame) =>
          drawRowChart(frame, {
            values: rows.flatMap((row) => [shown(row.meanWhPerKm), shown(row.believedWhPerKm)]),
            axisLabel,
            reference: estimate,
            rows: rows.map((row, index) => ({
              key: row.key,
              label: row.day === '' ? row.car : dayWords(row.day),
              detail: row.day === '' ? `${row.runs} ${row.runs === 1 ? 'run' : 'runs'}` : undefined,
              value: row.day === '' ? row.effect : `day ${row.effect}`,
              note: row.interval,
              strong: row.day === '',
              ruled: index > 0 && row.day === '',
              marks: ({ x, y }) => (
                <g>
                  <path
                    d={`M${x(shown(row.meanWhPerKm))} ${y}H${x(shown(row.believedWhPerKm))}`}
                    stroke={paint['ink-soft']}
                    strokeWidth="1.25"
                  />
                  <MeanMark x={x(shown(row.meanWhPerKm))} y={y} />
                  <BelievedMark x={x(shown(row.believedWhPerKm))} y={y} />
                </g>
              ),
            })),
          })
        }
      />
    </div>
  );
}

function MeanMark({ x, y }: { x: number; y: number }) {
  return <circle cx={x} cy={y} r="4.5" fill={paint.paper} stroke={paint.ink} strokeWidth="1.5" />;
}

function BelievedMark({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 5}l5 5l-5 5l-5 -5z`} fill={paint.accent} />;
}
