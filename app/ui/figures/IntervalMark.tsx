import type { ReactNode } from 'react';
import { paint } from './paint';

/** A place along the axis: units of the drawing, or per cent of a strip that is as wide as its column. */
type Place = number | `${number}%`;

interface IntervalMarkProps {
  x: (value: number) => Place;
  y: Place;
  domain: readonly [number, number];
  estimate: number;
  low?: number | undefined;
  high?: number | undefined;
  /** A wider interval drawn thin behind the first. */
  outerLow?: number | undefined;
  outerHigh?: number | undefined;
  /** Strokes across the thin line: a third interval, between the two. */
  strokes?: readonly [number, number] | undefined;
  muted?: boolean | undefined;
  /** A second, hollow mark: the number before normalising. */
  before?: number | undefined;
}

/** The dot is smaller than every cap: an interval narrower than the dot still stands out over and under it. */
export const DOT_RADIUS = 4;
export const CAP_HALF_HEIGHT = { inner: 6, strokes: 8, outer: 8 } as const;

/**
 * An estimate on its interval, in rows, files and legends alike. The thick line is the interval, a thin one the wider
 * interval; both end in caps that are taller than the dot. Muted estimates are hollow on a dashed line, so that the
 * difference is not one of colour. Strokes are of ink and heavier than any cap. An end that leaves the axis is drawn as
 * an arrowhead.
 */
export function IntervalMark(props: IntervalMarkProps) {
  const {
    x,
    y,
    domain,
    estimate,
    low,
    high,
    outerLow,
    outerHigh,
    strokes = [],
    muted = false,
    before,
  } = props;
  const colour = muted ? paint['ink-faint'] : paint.accent;
  const inside = estimate >= domain[0] && estimate <= domain[1];
  const ends = { x, y, domain, colour };
  return (
    <g>
      {outerLow !== undefined && outerHigh !== undefined ? (
        <Span {...ends} low={outerLow} high={outerHigh} stroke={1.25} cap={CAP_HALF_HEIGHT.outer} />
      ) : null}
      {low !== undefined && high !== undefined ? (
        <Span
          {...ends}
          low={low}
          high={high}
          stroke={muted ? 2 : 3}
          cap={CAP_HALF_HEIGHT.inner}
          dashes={muted ? '4 3' : undefined}
        />
      ) : null}
      {strokes.map((end, index) =>
        end < domain[0] || end > domain[1] ? null : (
          // biome-ignore lint/suspicious/noArrayIndexKey: two ends may lie at one place
          <At key={index} x={x(end)} y={y}>
            <path
              d={`M0 ${-CAP_HALF_HEIGHT.strokes}V${CAP_HALF_HEIGHT.strokes}`}
              stroke={paint.ink}
              strokeWidth="2.5"
            />
          </At>
        ),
      )}
      {before === undefined ? null : (
        <At x={x(before)} y={y}>
          <circle r="3.5" fill={paint.paper} stroke={paint.ink} strokeWidth="1.25" />
        </At>
      )}
      {inside ? (
        <At x={x(estimate)} y={y}>
          <circle
            r={DOT_RADIUS}
            fill={muted ? paint.paper : colour}
            stroke={muted ? colour : paint.paper}
            strokeWidth={muted ? 1.5 : 1}
          />
        </At>
      ) : null}
    </g>
  );
}

interface SpanProps {
  x: (value: number) => Place;
  y: Place;
  domain: readonly [number, number];
  colour: string;
  low: number;
  high: number;
  stroke: number;
  cap: number;
  dashes?: string | undefined;
}

function Span({ x, y, domain, colour, low, high, stroke, cap, dashes }: SpanProps) {
  const clamp = (value: number) => x(Math.min(domain[1], Math.max(domain[0], value)));
  return (
    <>
      <line
        x1={clamp(low)}
        x2={clamp(high)}
        y1={y}
        y2={y}
        stroke={colour}
        strokeWidth={stroke}
        strokeDasharray={dashes}
      />
      <At x={clamp(low)} y={y}>
        {low < domain[0] ? <path d="M0 0l7 -4.5v9z" fill={colour} /> : <Cap half={cap} colour={colour} />}
      </At>
      <At x={clamp(high)} y={y}>
        {high > domain[1] ? <path d="M0 0l-7 -4.5v9z" fill={colour} /> : <Cap half={cap} colour={colour} />}
      </At>
    </>
  );
}

function Cap({ half, colour }: { half: number; colour: string }) {
  return <path d={`M0 ${-half}V${half}`} stroke={colour} strokeWidth="1.5" />;
}

/** A mark of fixed size at a place that may be a share of the width. */
function At({ x, y, children }: { x: Place; y: Place; children: ReactNode }) {
  if (typeof x === 'number') return <g transform={`translate(${x} ${y})`}>{children}</g>;
  return (
    <svg x={x} y={y} overflow="visible" aria-hidden="true">
      {children}
    </svg>
  );
}
