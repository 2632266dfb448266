import { paint } from './paint';

interface IntervalMarkProps {
  x: (value: number) => number;
  y: number;
  domain: readonly [number, number];
  estimate: number;
  low?: number;
  high?: number;
  /** A wider interval drawn thin behind the first. */
  outerLow?: number;
  outerHigh?: number;
  muted?: boolean;
}

/**
 * An estimate on its interval. The thick line is the interval, a thin one with end ticks the wider
 * interval. Muted estimates are hollow on a dashed line, so that the difference is not one of colour.
 * An end that leaves the axis is drawn as an arrowhead.
 */
export function IntervalMark(props: IntervalMarkProps) {
  const { x, y, domain, estimate, low, high, outerLow, outerHigh, muted = false } = props;
  const colour = muted ? paint['ink-faint'] : paint.accent;
  const clamp = (value: number) => x(Math.min(domain[1], Math.max(domain[0], value)));
  const inside = estimate >= domain[0] && estimate <= domain[1];
  return (
    <g>
      {outerLow !== undefined && outerHigh !== undefined ? (
        <>
          <path
            d={`M${clamp(outerLow)} ${y}H${clamp(outerHigh)}M${clamp(outerLow)} ${y - 4}v8M${clamp(outerHigh)} ${y - 4}v8`}
            stroke={colour}
            strokeWidth="1.25"
            fill="none"
          />
          <Overrun x={x} y={y} domain={domain} low={outerLow} high={outerHigh} colour={colour} />
        </>
      ) : null}
      {low !== undefined && high !== undefined ? (
        <>
          <path
            d={`M${clamp(low)} ${y}H${clamp(high)}`}
            stroke={colour}
            strokeWidth={muted ? 2 : 3}
            strokeDasharray={muted ? '4 3' : undefined}
            fill="none"
          />
          <Overrun x={x} y={y} domain={domain} low={low} high={high} colour={colour} />
        </>
      ) : null}
      {inside ? (
        <circle
          cx={x(estimate)}
          cy={y}
          r="5"
          fill={muted ? paint.paper : colour}
          stroke={muted ? colour : paint.paper}
          strokeWidth="1.5"
        />
      ) : null}
    </g>
  );
}

interface OverrunProps {
  x: (value: number) => number;
  y: number;
  domain: readonly [number, number];
  low: number;
  high: number;
  colour: string;
}

function Overrun({ x, y, domain, low, high, colour }: OverrunProps) {
  return (
    <>
      {low < domain[0] ? <path d={`M${x(domain[0])} ${y}l7 -4.5v9z`} fill={colour} /> : null}
      {high > domain[1] ? <path d={`M${x(domain[1])} ${y}l-7 -4.5v9z`} fill={colour} /> : null}
    </>
  );
}
