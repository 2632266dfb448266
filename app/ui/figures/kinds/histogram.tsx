import { type FormatTick, linearAxis } from '../axis';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import type { Frame } from '../ResponsiveSvg';
import { AnchoredText } from '../rowChart';
import { stripAxis } from '../stripAxis';

/** Where a run falls among the others: one dot a run, stacked where they would touch. */
export interface HistogramData {
  kind: 'histogram';
  /** The other runs, each with its row in the table where that has it. */
  others: readonly { value: number; row?: number }[];
  /** The run looked at. */
  own: { value: number; label: string; row?: number };
  /** Where a run of this setup is expected, from the others alone. */
  prediction?: { low: number; high: number; label: string };
  othersLabel: string;
  axisLabel: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
}

const radius = 3.5;

export const histogram: FigureKind<HistogramData> = {
  draw: drawStrip,
  legend: ({ othersLabel, own, prediction }) => [
    { label: othersLabel, mark: <OtherDot x={14} y={6} /> },
    { label: own.label, mark: <OwnMark x={14} y={6} /> },
    ...(prediction ? [{ label: prediction.label, mark: <ExpectedSpan low={2} high={26} y={6} /> }] : []),
  ],
};

function OtherDot({ x, y, row }: { x: number; y: number; row?: number }) {
  return <circle data-row={row} cx={x} cy={y} r={radius - 0.4} fill={paint['ink-faint']} />;
}

function OwnMark({ x, y, row }: { x: number; y: number; row?: number }) {
  return (
    <path data-row={row} d={`M${x} ${y - 6}l6 6l-6 6l-6 -6z`} fill={paint.accent} stroke={paint.paper} />
  );
}

function ExpectedSpan({ low, high, y }: { low: number; high: number; y: number }) {
  return (
    <path
      d={`M${low} ${y}H${high}M${low} ${y - 5}v10M${high} ${y - 5}v10`}
      stroke={paint.ink}
      strokeWidth="1.5"
    />
  );
}

function drawStrip(frame: Frame, data: HistogramData) {
  const { others, own, prediction } = data;
  const { width, text } = frame;
  const axis = linearAxis({
    values: [
      ...others.map(({ value }) => value),
      own.value,
      ...(prediction ? [prediction.low, prediction.high] : []),
    ],
    domain: data.domain,
    range: [12, width - 12],
    tickCount: frame.compact ? 4 : 8,
    mark: frame.mark,
    formatTick: data.formatTick,
  });
  const x = (value: number) => axis.scale(value);
  const dots = stack(others.map(({ value, row }) => ({ place: x(value), row })));
  const tallest = Math.max(0, ...dots.map((dot) => dot.level));
  const base = 30 + (tallest + 1) * radius * 2;
  const strip = stripAxis(frame, axis, base, data.axisLabel);
  const content = (
    <>
      {prediction ? (
        <rect
          x={x(prediction.low)}
          y={22}
          width={Math.max(1, x(prediction.high) - x(prediction.low))}
          height={base - 22}
          fill={paint.wash}
        />
      ) : null}
      {prediction ? <ExpectedSpan low={x(prediction.low)} high={x(prediction.high)} y={base + 10} /> : null}
      {dots.map((dot, index) => (
        <OtherDot
          // biome-ignore lint/suspicious/noArrayIndexKey: dots have no identity and never move
          key={index}
          x={dot.x}
          y={base - radius - dot.level * radius * 2}
          row={dot.row}
        />
      ))}
      <path d={`M${x(own.value)} 20V${base}`} stroke={paint.accent} strokeWidth="2" />
      <OwnMark x={x(own.value)} y={base - 2} row={own.row} />
      <AnchoredText x={x(own.value)} y={14} width={width} text={own.label} size={text} />
      {strip.ground}
    </>
  );
  return { height: strip.end, content };
}

/** Puts each dot in its column of dot width, on top of those already there. */
function stack(dots: readonly { place: number; row?: number }[]) {
  const levels = new Map<number, number>();
  return [...dots]
    .sort((a, b) => a.place - b.place)
    .map(({ place, row }) => {
      const column = Math.round(place / (radius * 2));
      const level = levels.get(column) ?? 0;
      levels.set(column, level + 1);
      return { x: column * radius * 2, level, row };
    });
}
