import type { ReactNode } from 'react';
import { type Axis, type FormatTick, linearAxis } from './axis';
import { paint } from './paint';
import type { Frame } from './ResponsiveSvg';
import { AnchoredText } from './rowChart';
import { textWidth } from './textFit';

interface PlotAreaOptions {
  xValues: readonly number[];
  yValues: readonly number[];
  xDomain?: readonly [number, number];
  yDomain?: readonly [number, number];
  /** Said under the axis; left out where another panel below carries it. */
  xLabel?: string;
  /** Said level over the top of the axis, never turned on its side. */
  yLabel: string;
  formatX?: FormatTick;
  formatY?: FormatTick;
  top: number;
  height: number;
  yTickCount?: number;
  xPad?: number;
  yPad?: number;
}

export interface PlotArea {
  x: (value: number) => number;
  y: (value: number) => number;
  left: number;
  right: number;
  top: number;
  bottom: number;
  /** Grid, axes and their words; drawn first. */
  ground: ReactNode;
  /** Where the next thing may start. */
  end: number;
}

/** A plane of two linear axes with a thin grid. */
export function plotArea(frame: Frame, options: PlotAreaOptions): PlotArea {
  const { text, width, compact } = frame;
  const top = options.top + text + 16;
  const bottom = top + options.height;
  const yAxis = linearAxis({
    values: options.yValues,
    domain: options.yDomain,
    range: [bottom, top],
    tickCount: options.yTickCount ?? 5,
    formatTick: options.formatY,
    mark: frame.mark,
    pad: options.yPad,
  });
  const left = Math.max(24, ...yAxis.ticks.map((tick) => textWidth(tick.label, text))) + 10;
  const right = width - 10;
  const xAxis = linearAxis({
    values: options.xValues,
    domain: options.xDomain,
    range: [left, right],
    tickCount: compact ? 4 : 8,
    formatTick: options.formatX,
    mark: frame.mark,
    pad: options.xPad,
  });
  const ground = (
    <>
      <text x="0" y={options.top + text} fill={paint['ink-soft']}>
        {options.yLabel}
      </text>
      {yAxis.ticks.map((tick) => (
        <g key={tick.value}>
          <path d={`M${left} ${yAxis.scale(tick.value)}H${right}`} stroke={paint.rule} />
          <text
            x={left - 8}
            y={yAxis.scale(tick.value) + text * 0.35}
            textAnchor="end"
            fill={paint['ink-soft']}
          >
            {tick.label}
          </text>
        </g>
      ))}
      <path d={`M${left} ${bottom}H${right}`} stroke={paint['rule-strong']} />
      {options.xLabel === undefined ? null : (
        <XWords axis={xAxis} frame={frame} bottom={bottom} label={options.xLabel} />
      )}
    </>
  );
  return {
    x: (value) => xAxis.scale(value),
    y: (value) => yAxis.scale(value),
    left,
    right,
    top,
    bottom,
    ground,
    end: options.xLabel === undefined ? bottom + 10 : bottom + 2 * text + 18,
  };
}

function XWords({ axis, frame, bottom, label }: { axis: Axis; frame: Frame; bottom: number; label: string }) {
  const { text, width } = frame;
  return (
    <>
      {axis.ticks.map((tick) => (
        <g key={tick.value}>
          <path d={`M${axis.scale(tick.value)} ${bottom}v5`} stroke={paint['rule-strong']} />
          <AnchoredText
            x={axis.scale(tick.value)}
            y={bottom + 6 + text}
            width={width}
            text={tick.label}
            size={text}
            soft
          />
        </g>
      ))}
      <text x={width - 10} y={bottom + 12 + 2 * text} textAnchor="end" fill={paint['ink-soft']}>
        {label}
      </text>
    </>
  );
}

/** One decimal is finer than any screen and keeps long paths short. */
export function pathOf(points: readonly { x: number; y: number }[]): string {
  return points
    .map((point, index) => `${index === 0 ? 'M' : 'L'}${point.x.toFixed(1)} ${point.y.toFixed(1)}`)
    .join('');
}
