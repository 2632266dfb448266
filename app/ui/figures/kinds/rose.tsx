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
  const content = (
    <>
      {[0.5, 1].map((part) => (
        <circle key={part} cx={cx} cy={cy} r={radius * part} fill="none" stroke={paint.rule} />
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
