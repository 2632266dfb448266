import { THIN_SPACE } from '@/lib/units/format';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import type { Frame } from '../ResponsiveSvg';

export interface RoseSector {
  /** Middle of the sector, degrees clockwise from north. */
  bearingDeg: number;
  /** Share of the distance or of the time, 0 … 1. */
  share: number;
  /** Its row in the table. */
  row?: number;
}

/** How a route, or a wind record, spreads over the compass. Petal area goes with the share. */
export interface RoseData {
  kind: 'rose';
  sectors: readonly RoseSector[];
  sectorWidthDeg: number;
  /** An arrow from where the wind comes, with its speed. */
  wind?: { fromDeg: number; text: string };
  /** What the petals are, under the rose. */
  label: string;
}

export const rose: FigureKind<RoseData> = { draw: drawRose, legend: () => [] };

const rad = Math.PI / 180;

function drawRose(frame: Frame, data: RoseData) {
  const { sectors, sectorWidthDeg, wind, label } = data;
  const radius =
    frame.room === undefined
      ? 112
      : Math.min(frame.width / 2 - 30, Math.max(80, (frame.room - 120 - 2 * frame.text) / 2));
  const cx = frame.width / 2;
  const cy = radius + 40;
  const largest = Math.max(1e-9, ...sectors.map((sector) => sector.share));
  const at = (bearingDeg: number, r: number) => ({
    x: cx + r * Math.sin(bearingDeg * rad),
    y: cy - r * Math.cos(bearingDeg * rad),
  });
  const point = (bearingDeg: number, r: number) => {
    const p = at(bearingDeg, r);
    return `${p.x.toFixed(1)} ${p.y.toFixed(1)}`;
  };
  const half = sectorWidthDeg / 2 - 1;
  const rings = ringShares(largest).map((share) => ({ share, r: radius * Math.sqrt(share / largest) }));
  const free = freeBearing(sectors);
  const content = (
    <>
      {rings.map(({ share, r }) => (
        <circle key={share} cx={cx} cy={cy} r={r} fill="none" stroke={paint['rule-strong']} />
      ))}
      <path
        d={`M${cx - radius} ${cy}H${cx + radius}M${cx} ${cy - radius}V${cy + radius}`}
        stroke={paint.rule}
      />
      {sectors.map((sector) => {
        const r = radius * Math.sqrt(sector.share / largest);
        const from = sector.bearingDeg - half;
        const to = sector.bearingDeg + half;
        return (
          <path
            key={sector.bearingDeg}
            data-row={sector.row}
            d={`M${cx} ${cy}L${point(from, r)}A${r.toFixed(1)} ${r.toFixed(1)} 0 0 1 ${point(to, r)}Z`}
            fill={paint.accent}
          />
        );
      })}
      {rings.map(({ share, r }, index) => {
        const p = at(free, r);
        // In a small rose the number of the next ring out would be written over it.
        const next = rings[index + 1];
        if (next && Math.abs(at(free, next.r).y - p.y) < frame.text) return null;
        return (
          <text
            key={share}
            x={p.x}
            y={p.y + frame.text * 0.35}
            textAnchor="middle"
            fill={paint.ink}
            stroke={paint.paper}
            strokeWidth="4"
            strokeLinejoin="round"
            paintOrder="stroke"
          >
            {`${Number((100 * share).toFixed(1))}${THIN_SPACE}%`}
          </text>
        );
      })}
      {(['N', 'E', 'S', 'W'] as const).map((name, index) => {
        const p = at(index * 90, radius + 13);
        return (
          <text key={name} x={p.x} y={p.y + frame.text * 0.35} textAnchor="middle" fill={paint['ink-soft']}>
            {name}
          </text>
        );
      })}
      {wind ? (
        <WindArrow
          tail={at(wind.fromDeg, radius + 2)}
          head={at(wind.fromDeg, radius * 0.18)}
          bearingDeg={wind.fromDeg}
        />
      ) : null}
      <text x={cx} y={cy + radius + 42} textAnchor="middle" fill={paint['ink-soft']}>
        {label}
      </text>
      {wind ? (
        <text x={cx} y={cy + radius + 42 + frame.text + 5} textAnchor="middle">
          {wind.text}
        </text>
      ) : null}
    </>
  );
  return { height: cy + radius + 54 + (wind ? frame.text + 5 : 0), content };
}

const RING_STEPS = [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5];
const MOST_RINGS = 3;

/** Round shares up to the largest petal, evenly apart in share: rings lie closer together further out, as areas do. */
export function ringShares(largest: number): number[] {
  const step = RING_STEPS.find((one) => largest / one < MOST_RINGS + 1) ?? 0.5;
  return Array.from({ length: Math.floor(largest / step + 1e-9) }, (_, i) => (i + 1) * step);
}

/** Where between the four points of the compass the petals leave the rings' numbers most room. */
function freeBearing(sectors: readonly RoseSector[]): number {
  const crowding = (bearing: number) =>
    sectors.reduce((sum, { bearingDeg, share }) => {
      const apart = Math.abs(((bearingDeg - bearing + 540) % 360) - 180);
      return sum + share * Math.max(0, 1 - apart / 60);
    }, 0);
  const [best = 45] = [45, 135, 225, 315].sort((a, b) => crowding(a) - crowding(b));
  return best;
}

interface WindArrowProps {
  tail: { x: number; y: number };
  head: { x: number; y: number };
  bearingDeg: number;
}

function WindArrow({ tail, head, bearingDeg }: WindArrowProps) {
  const line = `M${tail.x} ${tail.y}L${head.x} ${head.y}`;
  return (
    <>
      <path d={line} stroke={paint.paper} strokeWidth="6" />
      <path d={line} stroke={paint.ink} strokeWidth="2" />
      <path
        d="M0 4L-6 -9H6z"
        fill={paint.ink}
        stroke={paint.paper}
        transform={`translate(${head.x} ${head.y}) rotate(${bearingDeg})`}
      />
    </>
  );
}
