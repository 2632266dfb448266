import { type FormatTick, linearAxis } from './axis';
import { Legend } from './Legend';
import { paint } from './paint';
import { type Frame, ResponsiveSvg } from './ResponsiveSvg';
import { AnchoredText } from './rowChart';
import { stripAxis } from './stripAxis';

interface DensityStripProps {
  title: string;
  desc: string;
  /** Ends of a bin and how many lie in it. */
  bins: readonly { from: number; to: number; count: number }[];
  /** What the band and the line inside it stand for. */
  middle: { low: number; median: number; high: number; label: string };
  reference: { value: number; label: string };
  axisLabel: string;
  formatTick?: FormatTick;
}

const BAR_HEIGHT = 90;

/** How many lie where, for more than can be drawn one by one: the height of a bar is a count. */
export function DensityStrip(props: DensityStripProps) {
  return (
    <div>
      <Legend
        items={[
          {
            label: props.middle.label,
            mark: <path d="M2 6H26M14 1v10" stroke={paint.ink} strokeWidth="1.5" />,
          },
        ]}
      />
      <ResponsiveSvg title={props.title} desc={props.desc} draw={(frame) => drawStrip(frame, props)} />
    </div>
  );
}

function drawStrip(frame: Frame, { bins, middle, reference, axisLabel, formatTick }: DensityStripProps) {
  const { width, text } = frame;
  const axis = linearAxis({
    values: [...bins.flatMap(({ from, to }) => [from, to]), reference.value],
    range: [12, width - 12],
    tickCount: frame.compact ? 4 : 8,
    formatTick,
  });
  const x = (value: number) => axis.scale(value);
  const most = Math.max(1, ...bins.map(({ count }) => count));
  const base = 24 + BAR_HEIGHT;
  const strip = stripAxis(frame, axis, base, axisLabel);
  const content = (
    <>
      {bins.map(({ from, to, count }) => (
        <rect
          key={from}
          x={Math.min(x(from), x(to))}
          y={base - (BAR_HEIGHT * count) / most}
          width={Math.abs(x(to) - x(from))}
          height={(BAR_HEIGHT * count) / most}
          fill={paint['ink-faint']}
        />
      ))}
      <path d={`M${x(reference.value)} 20V${base}`} stroke={paint.accent} strokeWidth="2" />
      <AnchoredText x={x(reference.value)} y={14} width={width} text={reference.label} size={text} />
      <path
        d={`M${x(middle.low)} ${base + 10}H${x(middle.high)}M${x(middle.median)} ${base + 5}v10`}
        stroke={paint.ink}
        strokeWidth="1.5"
      />
      {strip.ground}
    </>
  );
  return { height: strip.end, content };
}
