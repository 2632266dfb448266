import { type FormatTick, linearAxis } from '../axis';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import type { Frame } from '../ResponsiveSvg';
import { AnchoredText } from '../rowChart';
import { stripAxis } from '../stripAxis';

/** How many lie where, for more than can be drawn one by one: the height of a bar is a count. */
export interface DensityData {
  kind: 'density';
  /** Ends of a bin and how many lie in it. */
  bins: readonly { from: number; to: number; count: number }[];
  /** What the band and the line inside it stand for. */
  middle: { low: number; median: number; high: number; label: string };
  reference: { value: number; label: string };
  axisLabel: string;
  formatTick?: FormatTick;
  /** The table's row of the first bin; the others follow it. */
  firstRow: number;
}

const BAR_HEIGHT = 90;

export const density: FigureKind<DensityData> = {
  draw: drawStrip,
  legend: ({ middle }) => [{ label: middle.label, mark: <MiddleMark low={2} median={14} high={26} y={6} /> }],
};

function MiddleMark({ low, median, high, y }: { low: number; median: number; high: number; y: number }) {
  return <path d={`M${low} ${y}H${high}M${median} ${y - 5}v10`} stroke={paint.ink} strokeWidth="1.5" />;
}

function drawStrip(frame: Frame, data: DensityData) {
  const { bins, middle, reference, axisLabel, formatTick, firstRow } = data;
  const { width, text } = frame;
  const barHeight = frame.room === undefined ? BAR_HEIGHT : Math.max(BAR_HEIGHT, frame.room - 64 - 2 * text);
  const axis = linearAxis({
    values: [...bins.flatMap(({ from, to }) => [from, to]), reference.value],
    range: [12, width - 12],
    tickCount: frame.compact ? 4 : 8,
    mark: frame.mark,
    formatTick,
  });
  const x = (value: number) => axis.scale(value);
  const most = Math.max(1, ...bins.map(({ count }) => count));
  const base = 24 + barHeight;
  const strip = stripAxis(frame, axis, base, axisLabel);
  const content = (
    <>
      {bins.map(({ from, to, count }, index) => (
        <rect
          key={from}
          data-row={firstRow + index}
          x={Math.min(x(from), x(to))}
          y={base - (barHeight * count) / most}
          width={Math.abs(x(to) - x(from))}
          height={(barHeight * count) / most}
          fill={paint['ink-faint']}
        />
      ))}
      <path d={`M${x(reference.value)} 20V${base}`} stroke={paint.accent} strokeWidth="2" />
      <AnchoredText x={x(reference.value)} y={14} width={width} text={reference.label} size={text} />
      <MiddleMark low={x(middle.low)} median={x(middle.median)} high={x(middle.high)} y={base + 10} />
      {strip.ground}
    </>
  );
  return { height: strip.end, content };
}
