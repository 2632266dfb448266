import { type FormatTick, linearAxis } from './axis';
import { Legend } from './Legend';
import { paint } from './paint';
import { type FigureTarget, type Frame, ResponsiveSvg } from './ResponsiveSvg';
import { AnchoredText } from './rowChart';
import { stripAxis } from './stripAxis';

interface HistogramStripProps {
  title: string;
  desc: string;
  /** The other runs. */
  others: readonly number[];
  /** The run looked at. */
  own: { value: number; label: string };
  /** Where a run of this setup is expected, from the others alone. */
  prediction?: { low: number; high: number; label: string };
  othersLabel: string;
  axisLabel: string;
  domain?: readonly [number, number];
  formatTick?: FormatTick;
  target?: FigureTarget;
}

const radius = 3.5;

/** Where a run falls among the others: one dot a run, stacked where they would touch. */
export function HistogramStrip(props: HistogramStripProps) {
  const figure = (
    <ResponsiveSvg
      title={props.title}
      desc={props.desc}
      target={props.target}
      draw={(frame) => drawStrip(frame, props)}
    />
  );
  if (props.target === 'file') return figure;
  const items = [
    { label: props.othersLabel, mark: <circle cx="14" cy="6" r={radius} fill={paint['ink-faint']} /> },
    { label: props.own.label, mark: <path d="M14 0l6 6l-6 6l-6 -6z" fill={paint.accent} /> },
  ];
  return (
    <div>
      <Legend
        items={
          props.prediction
            ? [
                ...items,
                {
                  label: props.prediction.label,
                  mark: <path d="M2 6H26M2 1v10M26 1v10" stroke={paint.ink} strokeWidth="1.5" />,
                },
              ]
            : items
        }
      />
      {figure}
    </div>
  );
}

function drawStrip(frame: Frame, props: HistogramStripProps) {
  const { others, own, prediction } = props;
  const { width, text } = frame;
  const axis = linearAxis({
    values: [...others, own.value, ...(prediction ? [prediction.low, prediction.high] : [])],
    domain: props.domain,
    range: [12, width - 12],
    tickCount: frame.compact ? 4 : 8,
    formatTick: props.formatTick,
  });
  const x = (value: number) => axis.scale(value);
  const dots = stack(others.map(x));
  const tallest = Math.max(0, ...dots.map((dot) => dot.level));
  const base = 30 + (tallest + 1) * radius * 2;
  const strip = stripAxis(frame, axis, base, props.axisLabel);
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
      {prediction ? (
        <path
          d={`M${x(prediction.low)} ${base + 10}H${x(prediction.high)}M${x(prediction.low)} ${base + 5}v10M${x(prediction.high)} ${base + 5}v10`}
          stroke={paint.ink}
          strokeWidth="1.5"
        />
      ) : null}
      {dots.map((dot, index) => (
        <circle
          // biome-ignore lint/suspicious/noArrayIndexKey: dots have no identity and never move
          key={index}
          cx={dot.x}
          cy={base - radius - dot.level * radius * 2}
          r={radius - 0.4}
          fill={paint['ink-faint']}
        />
      ))}
      <path d={`M${x(own.value)} 20V${base}`} stroke={paint.accent} strokeWidth="2" />
      <path d={`M${x(own.value)} ${base - 8}l6 6l-6 6l-6 -6z`} fill={paint.accent} stroke={paint.paper} />
      <AnchoredText x={x(own.value)} y={14} width={width} text={own.label} size={text} />
      {strip.ground}
    </>
  );
  return { height: strip.end, content };
}

/** Puts each dot in its column of dot width, on top of those already there. */
function stack(places: readonly number[]): { x: number; level: number }[] {
  const levels = new Map<number, number>();
  return [...places]
    .sort((a, b) => a - b)
    .map((place) => {
      const column = Math.round(place / (radius * 2));
      const level = levels.get(column) ?? 0;
      levels.set(column, level + 1);
      return { x: column * radius * 2, level };
    });
}
