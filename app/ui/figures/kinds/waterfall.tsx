import type { FormatTick } from '../axis';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { drawRowChart, type RowSpace } from '../rowChart';

export interface WaterfallTotal {
  label: string;
  value: number;
  /** Ready to read, with its unit: "189.2 Wh/km". */
  text: string;
  /** Standard uncertainty, drawn as a whisker. */
  u?: number;
  /** In its place the ends of its interval, drawn as one. */
  ends?: readonly [number, number];
  note?: string;
}

function reachOf({ value, u = 0, ends }: WaterfallTotal): readonly [number, number] {
  return ends ?? [value - u, value + u];
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

/** From the measured number to the comparable one, one adjustment at a time, each with its uncertainty. */
export interface WaterfallData {
  kind: 'waterfall';
  measured: WaterfallTotal;
  steps: readonly WaterfallStep[];
  normalised: WaterfallTotal;
  axisLabel: string;
  /** What the interval of a total is. */
  intervalLabel?: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
}

export const waterfall: FigureKind<WaterfallData> = {
  draw: (frame, { measured, steps, normalised, axisLabel, domain, formatTick }) =>
    drawRowChart(frame, {
      values: [
        ...[measured, normalised].flatMap(reachOf),
        ...steps.flatMap((step) => [step.from, step.to - (step.u ?? 0), step.to + (step.u ?? 0)]),
      ],
      domain,
      axisLabel,
      formatTick,
      rows: [
        totalRow('measured', measured),
        ...steps.map((step) => ({
          key: step.key,
          label: step.label,
          value: step.text,
          note: step.totalText ? `to ${step.totalText}` : undefined,
          marks: ({ x, y, height }: RowSpace) => (
            <g>
              <path
                d={`M${x(step.from)} ${y - height / 2}V${y}`}
                stroke={paint['ink-faint']}
                strokeWidth="1"
                strokeDasharray="2 2"
              />
              <StepBar from={x(step.from)} to={x(step.to)} y={y} isDown={step.to < step.from} />
              {step.u ? <Whisker low={x(step.to - step.u)} high={x(step.to + step.u)} y={y} /> : null}
            </g>
          ),
        })),
        { ...totalRow('normalised', normalised), ruled: true },
      ],
    }),
  legend: ({ intervalLabel, measured, steps, normalised }) => [
    { label: 'lowers the number', mark: <StepBar from={26} to={2} y={6} isDown /> },
    { label: 'raises it', mark: <StepBar from={2} to={26} y={6} isDown={false} /> },
    ...([measured, normalised].some(({ ends }) => ends)
      ? [{ label: intervalLabel ?? '95 % interval', mark: <Interval low={2} high={26} y={6} /> }]
      : []),
    ...([measured, normalised, ...steps].some(({ u }) => u)
      ? [{ label: '±: off by less in two cases of three', mark: <Whisker low={2} high={26} y={6} /> }]
      : []),
  ],
};

/** Steps down are filled, steps up only outlined, so that the direction shows without colour. */
function StepBar({ from, to, y, isDown }: { from: number; to: number; y: number; isDown: boolean }) {
  return (
    <rect
      x={Math.min(from, to)}
      y={y - 6}
      width={Math.max(1.5, Math.abs(to - from))}
      height="12"
      fill={isDown ? paint.accent : paint['accent-wash']}
      stroke={paint.accent}
      strokeWidth="1.25"
    />
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

/** Heavier than a whisker and with taller ends, so that the two are told apart without colour. */
function Interval({ low, high, y }: { low: number; high: number; y: number }) {
  const path = `M${low} ${y}H${high}M${low} ${y - 6}v12M${high} ${y - 6}v12`;
  return <path d={path} stroke={paint.accent} strokeWidth="2.5" fill="none" />;
}

function totalRow(key: string, total: WaterfallTotal) {
  const [low, high] = reachOf(total);
  const Reach = total.ends ? Interval : Whisker;
  return {
    key,
    label: total.label,
    value: total.text,
    note: total.note,
    strong: true,
    marks: ({ x, y }: RowSpace) => (
      <g>
        {high > low ? <Reach low={x(low)} high={x(high)} y={y} /> : null}
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
