import type { Axis } from './axis';
import { paint } from './paint';
import type { Frame } from './ResponsiveSvg';
import { AnchoredText } from './rowChart';

/** The axis below a strip whose marks stand on `base`, with its words; where the figure ends. */
export function stripAxis({ width, text }: Frame, axis: Axis, base: number, label: string) {
  const ground = (
    <>
      <path d={`M12 ${base + 20}H${width - 12}`} stroke={paint['rule-strong']} />
      {axis.ticks.map((tick) => (
        <g key={tick.value}>
          <path d={`M${axis.scale(tick.value)} ${base + 20}v5`} stroke={paint['rule-strong']} />
          <AnchoredText
            x={axis.scale(tick.value)}
            y={base + 26 + text}
            width={width}
            text={tick.label}
            size={text}
            soft
          />
        </g>
      ))}
      <text x={width / 2} y={base + 32 + 2 * text} textAnchor="middle" fill={paint['ink-soft']}>
        {label}
      </text>
    </>
  );
  return { ground, end: base + 40 + 2 * text };
}
