import type { ReactNode } from 'react';
import { type FormatTick, linearAxis } from './axis';
import { paint } from './paint';
import type { Drawing, Frame } from './ResponsiveSvg';
import { textWidth, wrapText } from './textFit';

/** Where a row draws its marks. */
export interface RowSpace {
  x: (value: number) => number;
  domain: readonly [number, number];
  /** Middle of the row's strip. */
  y: number;
  /** Height of the strip. */
  height: number;
}

export interface ChartRow {
  key: string;
  label: string;
  /** Number at the right end, with its interval or its ±. */
  value?: string;
  /** Second, quieter line under the value. */
  note?: string;
  strong?: boolean;
  muted?: boolean;
  /** A thin rule above the row. */
  ruled?: boolean;
  marks: (space: RowSpace) => ReactNode;
}

export interface RowChartOptions {
  rows: readonly ChartRow[];
  values: readonly number[];
  domain?: readonly [number, number];
  /** What runs along the axis, with its unit. */
  axisLabel: string;
  formatTick?: FormatTick;
  reference?: { value: number; label: string };
  /** Drawn behind all rows. */
  backdrop?: (space: { x: (value: number) => number; top: number; bottom: number }) => ReactNode;
}

/**
 * Rows on one common axis: label, strip, number. On a phone the label and the number stand on a line
 * over the strip, so that the strip keeps the whole width.
 */
export function drawRowChart(frame: Frame, options: RowChartOptions): Drawing {
  const { rows, reference } = options;
  const { compact, text, width } = frame;
  const valueWidth = compact
    ? 0
    : Math.max(
        0,
        ...rows.map((row) => Math.max(textWidth(row.value ?? '', text), textWidth(row.note ?? '', text))),
      ) + 8;
  const left = compact ? 8 : 204;
  const right = width - (compact ? 8 : valueWidth + 16);
  const top = reference ? 24 : 8;

  const axis = linearAxis({
    values: reference ? [...options.values, reference.value] : options.values,
    domain: options.domain,
    range: [left, right],
    tickCount: compact ? 4 : 6,
    formatTick: options.formatTick,
  });
  const x = (value: number) => axis.scale(value);

  let y = top;
  const placed = rows.map((row) => {
    const lines = wrapText(
      row.label,
      compact ? width - 16 - textWidth(row.value ?? '', text) - 12 : left - 20,
      text,
    );
    const textLines = Math.max(lines.length, !compact && row.note ? 2 : 1);
    const head = compact ? lines.length * (text + 3) + (row.note ? text + 3 : 0) + 3 : 0;
    const strip = compact ? 20 : Math.max(28, textLines * (text + 3) + 10);
    const start = y;
    y += head + strip + (compact ? 6 : 0);
    return { row, lines, start, head, strip, middle: start + head + strip / 2 };
  });
  const bottom = y + 2;

  const content = (
    <>
      {axis.ticks.map((tick) => (
        <path key={tick.value} d={`M${x(tick.value)} ${top}V${bottom}`} stroke={paint.rule} strokeWidth="1" />
      ))}
      {options.backdrop?.({ x, top, bottom })}
      {reference ? (
        <>
          <path
            d={`M${x(reference.value)} ${top - 4}V${bottom}`}
            stroke={paint.ink}
            strokeWidth="1.25"
            strokeDasharray="5 3"
          />
          <AnchoredText x={x(reference.value)} y={top - 9} width={width} text={reference.label} size={text} />
        </>
      ) : null}
      {placed.map(({ row, lines, start, head, strip, middle }) => {
        const firstLine = compact
          ? start + text
          : middle + text * 0.35 - ((lines.length - 1) * (text + 3)) / 2;
        const valueY = compact ? start + text : middle + text * 0.35 - (row.note ? (text + 3) / 2 : 0);
        const ink = row.muted ? paint['ink-soft'] : paint.ink;
        const weight = row.strong ? 650 : 400;
        const noteX = compact ? 8 : width - 4;
        return (
          <g key={row.key}>
            {row.ruled ? (
              <path d={`M0 ${start - 1}H${width}`} stroke={paint['rule-strong']} strokeWidth="1" />
            ) : null}
            {lines.map((line, index) => (
              <text
                key={line}
                x={compact ? 8 : 0}
                y={firstLine + index * (text + 3)}
                fill={ink}
                fontWeight={weight}
              >
                {line}
              </text>
            ))}
            {row.value ? (
              <text x={width - (compact ? 8 : 4)} y={valueY} textAnchor="end" fill={ink} fontWeight={weight}>
                {row.value}
              </text>
            ) : null}
            {row.note ? (
              <text
                x={noteX}
                y={compact ? start + head - 4 : valueY + text + 3}
                textAnchor={compact ? 'start' : 'end'}
                fill={paint['ink-soft']}
              >
                {row.note}
              </text>
            ) : null}
            {row.marks({ x, domain: axis.domain, y: middle, height: strip })}
          </g>
        );
      })}
      <path d={`M${left} ${bottom}H${right}`} stroke={paint['rule-strong']} strokeWidth="1" />
      {axis.ticks.map((tick) => (
        <g key={tick.value}>
          <path d={`M${x(tick.value)} ${bottom}v5`} stroke={paint['rule-strong']} strokeWidth="1" />
          <AnchoredText
            x={x(tick.value)}
            y={bottom + 5 + text}
            width={width}
            text={tick.label}
            size={text}
            soft
          />
        </g>
      ))}
      <text x={(left + right) / 2} y={bottom + 12 + 2 * text} textAnchor="middle" fill={paint['ink-soft']}>
        {options.axisLabel}
      </text>
    </>
  );
  return { height: Math.ceil(bottom + 20 + 2 * text), content };
}

interface AnchoredTextProps {
  x: number;
  y: number;
  width: number;
  text: string;
  size: number;
  soft?: boolean;
}

/** Text centred on a place, moved inwards where it would leave the drawing. */
export function AnchoredText({ x, y, width, text, size, soft = false }: AnchoredTextProps) {
  const half = textWidth(text, size) / 2;
  const inside = Math.min(width - half - 1, Math.max(half + 1, x));
  return (
    <text x={inside} y={y} textAnchor="middle" fill={soft ? paint['ink-soft'] : paint.ink}>
      {text}
    </text>
  );
}
