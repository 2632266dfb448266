import type { ReactNode } from 'react';
import { type FormatTick, linearAxis } from './axis';
import { paint } from './paint';
import type { Drawing, Frame } from './ResponsiveSvg';
import { textWidth, wrapText, wrapWhole } from './textFit';

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
  /** Quieter words under the value, each on a line of its own. */
  note?: string | readonly string[] | undefined;
  /** Quieter lines under the label. */
  detail?: string;
  strong?: boolean;
  muted?: boolean;
  /** A thin rule above the row. */
  ruled?: boolean;
  /** Its row in the table; the same place unless told, null where its marks have rows of their own. */
  row?: number | null;
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
  /** Stretches of rows joined by an upright bar beside the strips. */
  bands?: readonly { from: number; to: number; lane: number }[];
}

const BAND_STEP = 6;

/**
 * Rows on one common axis: label, strip, number. On a phone the label and the number stand on a line
 * over the strip, so that the strip keeps the whole width.
 */
export function drawRowChart(frame: Frame, options: RowChartOptions): Drawing {
  const { rows, reference, bands = [] } = options;
  const { compact, text, width } = frame;
  // A long note wraps: the strip keeps at least as much as the words beside it.
  const noteRoom = compact ? width - 16 : width * 0.28;
  const notes = rows.map((row) => [row.note ?? []].flat().flatMap((one) => wrapText(one, noteRoom, text, 3)));
  const valueWidth = compact
    ? 0
    : Math.max(
        0,
        ...rows.flatMap((row, index) =>
          [row.value ?? '', ...(notes[index] ?? [])].map((words) => textWidth(words, text)),
        ),
      ) + 8;
  const lanes = Math.max(0, ...bands.map(({ lane }) => lane + 1));
  const bandRoom = compact ? 0 : lanes * BAND_STEP;
  const left = compact ? 8 : Math.max(236, width * 0.28) + bandRoom;
  const right = width - (compact ? 8 : valueWidth + 16);
  const top = reference ? 24 : 8;

  const axis = linearAxis({
    values: reference ? [...options.values, reference.value] : options.values,
    domain: options.domain,
    range: [left, right],
    tickCount: compact ? 4 : 6,
    formatTick: options.formatTick,
    mark: frame.mark,
  });
  const x = (value: number) => axis.scale(value);

  const line = text + 3;
  let y = top;
  const placed = rows.map((row, index) => {
    const note = notes[index] ?? [];
    const labelRoom = compact ? width - 28 - textWidth(row.value ?? '', text) : left - 20 - bandRoom;
    const label = wrapText(row.label, labelRoom, text, 3);
    const detail = row.detail ? wrapText(row.detail, compact ? width - 16 : labelRoom, text) : [];
    const textLines = Math.max(label.length + detail.length, compact ? 1 : 1 + note.length);
    const head = compact ? (label.length + detail.length + note.length) * line + 3 : 0;
    const strip = compact ? 20 : Math.max(30, textLines * line + 10);
    const start = y;
    y += head + strip + (compact ? 6 : 0);
    return { row, label, detail, note, start, head, strip, middle: start + head + strip / 2 };
  });
  const bottom = y + 2;
  const axisWords = wrapWhole(options.axisLabel, width - 4, text);

  // Grid and reference keep to the strips on a phone, where words stand between them.
  const runs = compact
    ? placed.map(({ middle, strip }) => ({ from: middle - strip / 2, to: middle + strip / 2 }))
    : [{ from: reference ? top - 4 : top, to: bottom }];

  const content = (
    <>
      {axis.ticks.map((tick) => (
        <path
          key={tick.value}
          d={runs.map((run) => `M${x(tick.value)} ${run.from}V${run.to}`).join('')}
          stroke={paint.rule}
        />
      ))}
      {reference ? (
        <>
          <path
            d={runs.map((run) => `M${x(reference.value)} ${run.from}V${run.to}`).join('')}
            stroke={paint.ink}
            strokeWidth="1.25"
            strokeDasharray={compact ? undefined : '5 3'}
          />
          <AnchoredText x={x(reference.value)} y={top - 9} width={width} text={reference.label} size={text} />
        </>
      ) : null}
      {bands.map(({ from, to, lane }) => {
        const [first, last] = [placed[from], placed[to]];
        const at = compact ? 1.5 : left - 10 - lane * BAND_STEP;
        return first && last && (!compact || lane === 0) ? (
          <path
            key={`${from} ${to}`}
            d={`M${at} ${first.start + 5}V${last.start + last.head + last.strip - 5}`}
            stroke={paint.ink}
            strokeWidth="3"
            strokeLinecap="round"
          />
        ) : null;
      })}
      {placed.map(({ row, label, detail, note, start, head, strip, middle }, index) => {
        const firstLine = compact
          ? start + text
          : middle + text * 0.35 - ((label.length + detail.length - 1) * line) / 2;
        const valueY = compact ? start + text : middle + text * 0.35 - (note.length * line) / 2;
        const ink = row.muted ? paint['ink-soft'] : paint.ink;
        const weight = row.strong ? 600 : 400;
        const labelX = compact ? 8 : 0;
        return (
          <g key={row.key} data-row={row.row === null ? undefined : (row.row ?? index)}>
            <rect x="0" y={start} width={width} height={head + strip} fill="none" pointerEvents="all" />
            {row.ruled ? <path d={`M0 ${start - 1}H${width}`} stroke={paint['rule-strong']} /> : null}
            {[...label, ...detail].map((words, lineIndex) => (
              <text
                key={words}
                x={labelX}
                y={firstLine + lineIndex * line}
                fill={lineIndex < label.length ? ink : paint['ink-soft']}
                fontWeight={lineIndex < label.length ? weight : 400}
              >
                {words}
              </text>
            ))}
            {row.value ? (
              <text x={width - (compact ? 8 : 4)} y={valueY} textAnchor="end" fill={ink} fontWeight={weight}>
                {row.value}
              </text>
            ) : null}
            {note.map((words, noteIndex) => (
              <text
                key={words}
                x={compact ? 8 : width - 4}
                y={
                  compact
                    ? start + head - 5 - (note.length - 1 - noteIndex) * line
                    : valueY + (noteIndex + 1) * line
                }
                textAnchor={compact ? 'start' : 'end'}
                fill={paint['ink-soft']}
              >
                {words}
              </text>
            ))}
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
      {axisWords.map((words, at) => (
        <AnchoredText
          key={words}
          x={(left + right) / 2}
          y={bottom + 12 + 2 * text + at * line}
          width={width}
          text={words}
          size={text}
          soft
        />
      ))}
    </>
  );
  return { height: Math.ceil(bottom + 20 + 2 * text + (axisWords.length - 1) * line), content };
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
