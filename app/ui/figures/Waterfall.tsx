import type { FormatTick } from './axis';
import { Legend } from './Legend';
import { paint } from './paint';
import { type FigureTarget, ResponsiveSvg } from './ResponsiveSvg';
import { drawRowChart } from './rowChart';

export interface WaterfallTotal {
  label: string;
  value: number;
  /** Ready to read, with its unit: "189.2 Wh/km". */
  text: string;
  /** Standard uncertainty, drawn as a whisker. */
  u?: number;
  note?: string;
}

export interface WaterfallStep {
  key: string;
  label: string;
  /** Running totals before and after the step. */
  from: number;
  to: number;
  u?: number;
  /** "−3.4 ± 0.8". */
  text: string;
  /** Running total after it, "185.8". */
  totalText?: string;
}

interface WaterfallProps {
  title: string;
  desc: string;
  measured: WaterfallTotal;
  steps: readonly WaterfallStep[];
  normalised: WaterfallTotal;
  axisLabel: string;
  /** What the whiskers are; the standard uncertainty unless told. */
  whiskerLabel?: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
  target?: FigureTarget;
}

/** From the measured number to the comparable one, one adjustment at a time, each with its uncertainty. */
export function Waterfall(props: WaterfallProps) {
  const { measured, steps, normalised } = props;
  const totals = [measured, normalised];
  const values = [
    ...totals.flatMap((total) => [total.value - (total.u ?? 0), total.value + (total.u ?? 0)]),
    ...steps.flatMap((step) => [step.from, step.to - (step.u ?? 0), step.to + (step.u ?? 0)]),
  ];
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
          rows: [
            totalRow('measured', measured),
            ...steps.map((step) => ({
              key: step.key,
              label: step.label,
              value: step.text,
              note: step.totalText ? `to ${step.totalText}` : undefined,
              marks: ({ x, y, height }: Space) => (
                <g>
                  <path
                    d={`M${x(step.from)} ${y - height / 2}V${y}`}
                    stroke={paint['ink-faint']}
                    strokeWidth="1"
                    strokeDasharray="2 2"
                  />
                  <StepBar x={x} y={y} step={step} />
                </g>
              ),
            })),
            { ...totalRow('normalised', normalised), ruled: true },
          ],
        })
      }
    />
  );
  if (props.target === 'file') return figure;
  return (
    <div>
      <Legend
        items={[
          { label: 'lowers the number', mark: <path d="M2 1H26V11H2z" fill={paint.accent} /> },
          {
            label: 'raises it',
            mark: (
              <path d="M2 1H26V11H2z" fill={paint['accent-wash']} stroke={paint.accent} strokeWidth="1.25" />
            ),
          },
          { label: props.whiskerLabel ?? 'standard uncertainty', mark: <Whisker low={2} high={26} y={6} /> },
        ]}
      />
      {figure}
    </div>
  );
}

interface Space {
  x: (value: number) => number;
  y: number;
  height: number;
}

/** Steps down are filled, steps up only outlined, so that the direction shows without colour. */
function StepBar({ x, y, step }: { x: (value: number) => number; y: number; step: WaterfallStep }) {
  const start = x(step.from);
  const end = x(step.to);
  const width = Math.max(1.5, Math.abs(end - start));
  const down = step.to < step.from;
  return (
    <>
      <rect
        x={Math.min(start, end)}
        y={y - 6}
        width={width}
        height="12"
        fill={down ? paint.accent : paint['accent-wash']}
        stroke={paint.accent}
        strokeWidth="1.25"
      />
      {step.u ? <Whisker low={x(step.to - step.u)} high={x(step.to + step.u)} y={y} /> : null}
    </>
  );
}

function Whisker({ low, high, y }: { low: number; high: number; y: number }) {
  const path = `M${low} ${y}H${high}M${low} ${y - 3}v6M${high} ${y - 3}v6`;
  return (
    <>
      <path d={path} stroke={paint.paper} strokeWidth="3.5" fill="none" />
      <path d={path} stroke={paint.ink} strokeWidth="1.25" fill="none" />
    </>
  );
}

function totalRow(key: string, total: WaterfallTotal) {
  return {
    key,
    label: total.label,
    value: total.text,
    note: total.note,
    strong: true,
    marks: ({ x, y }: Space) => (
      <g>
        {total.u ? <Whisker low={x(total.value - total.u)} high={x(total.value + total.u)} y={y} /> : null}
        <path
          d={`M${x(total.value)} ${y - 7}l7 7l-7 7l-7 -7z`}
          fill={paint.ink}
          stroke={paint.paper}
          strokeWidth="1.5"
        />
      </g>
    ),
  };
}
