import type { FormatTick } from './axis';
import { Legend } from './Legend';
import { paint } from './paint';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart } from './rowChart';

export interface SessionPair {
  key: string;
  /** Which session: car, loop and day. */
  label: string;
  first: number;
  second: number;
  /** The difference, ready to read. */
  text: string;
  note?: string;
}

interface PairsPlotProps {
  title: string;
  desc: string;
  pairs: readonly SessionPair[];
  firstLabel: string;
  secondLabel: string;
  axisLabel: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
  target?: FigureTarget;
}

/** Two setups driven in one session, joined: weather, car and loop were the same for both ends. */
export function PairsPlot(props: PairsPlotProps) {
  const { pairs } = props;
  const figure = (
    <ResponsiveSvg
      title={props.title}
      desc={props.desc}
      target={props.target}
      draw={(frame) =>
        drawRowChart(frame, {
          values: pairs.flatMap((pair) => [pair.first, pair.second]),
          domain: props.domain,
          axisLabel: props.axisLabel,
          formatTick: props.formatTick,
          rows: pairs.map((pair) => ({
            key: pair.key,
            label: pair.label,
            value: pair.text,
            note: pair.note,
            marks: ({ x, y }) => (
              <g>
                <path
                  d={`M${x(pair.first)} ${y}H${x(pair.second)}`}
                  stroke={paint.accent}
                  strokeWidth="1.5"
                />
                <FirstMark x={x(pair.first)} y={y} />
                <SecondMark x={x(pair.second)} y={y} />
              </g>
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
          { label: props.firstLabel, mark: <FirstMark x={14} y={6} /> },
          { label: props.secondLabel, mark: <SecondMark x={14} y={6} /> },
        ]}
      />
      {figure}
    </div>
  );
}

function FirstMark({ x, y }: { x: number; y: number }) {
  return <circle cx={x} cy={y} r="4.5" fill={paint.paper} stroke={paint.ink} strokeWidth="1.5" />;
}

function SecondMark({ x, y }: { x: number; y: number }) {
  return <path d={`M${x} ${y - 5.5}l5.5 5.5l-5.5 5.5l-5.5 -5.5z`} fill={paint.accent} />;
}
