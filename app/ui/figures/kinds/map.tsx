import { scaleLinear } from 'd3-scale';
import type { FigureKind } from '../figureKind';
import { paint } from '../paint';
import { pathOf } from '../plotArea';
import type { Frame } from '../ResponsiveSvg';
import { textWidth } from '../textFit';

/** Metres east and north of any fixed place. */
export interface MapPoint {
  eastM: number;
  northM: number;
}

export interface MapLeg {
  key: string;
  label: string;
  points: readonly MapPoint[];
  /** Its row in the table. */
  row?: number;
}

export interface MapPlace extends MapPoint {
  label: string;
  kind: 'start' | 'turnaround' | 'other';
}

/** A route on plain paper: north up, true shape, a scale bar. No tiles, nothing fetched. */
export interface MapData {
  kind: 'map';
  /** Outbound first, return second. */
  legs: readonly MapLeg[];
  places: readonly MapPlace[];
}

/** Each leg is drawn a little to the right of its line, so that out and back stand side by side. */
const legOffset = 2.6;

export const map: FigureKind<MapData> = {
  draw: drawMap,
  legend: ({ legs }) =>
    legs.map((leg, index) => ({ label: leg.label, mark: <LegLine d="M1 6H27" index={index} /> })),
};

interface LegLineProps {
  d: string;
  index: number;
  row?: number;
}

/** The way out is drawn through, the way back is dashed. */
function LegLine({ d, index, row }: LegLineProps) {
  return (
    <path
      data-row={row}
      d={d}
      fill="none"
      stroke={index === 0 ? paint.accent : paint.ink}
      strokeWidth="2.25"
      strokeLinejoin="round"
      strokeDasharray={index === 0 ? undefined : '6 2'}
    />
  );
}

function drawMap(frame: Frame, { legs, places }: MapData) {
  const all = [...legs.flatMap((leg) => leg.points), ...places];
  const east = all.map((point) => point.eastM);
  const north = all.map((point) => point.northM);
  const west = Math.min(...east);
  const south = Math.min(...north);
  const spanE = Math.max(1, Math.max(...east) - west);
  const spanN = Math.max(1, Math.max(...north) - south);
  const margin = frame.compact ? 34 : 48;
  const roomX = frame.width - 2 * margin;
  const tallest =
    frame.room === undefined ? (frame.compact ? 320 : 380) : Math.max(120, frame.room - 2 * margin - 34);
  const perMetre = Math.min(roomX / spanE, tallest / spanN);
  const drawnW = spanE * perMetre;
  const drawnH = Math.max(60, spanN * perMetre);
  const left = margin + (roomX - drawnW) / 2;
  const top = margin + (drawnH - spanN * perMetre) / 2;
  const at = (point: MapPoint) => ({
    x: left + (point.eastM - west) * perMetre,
    y: top + (south + spanN - point.northM) * perMetre,
  });
  const height = drawnH + 2 * margin + 34;
  const bar = barLength(frame.compact ? 110 : 150, perMetre);
  const barPx = bar.lengthM * perMetre;
  const route = legs.flatMap((leg) => leg.points.map(at));
  const content = (
    <>
      {legs.map((leg, index) => (
        <LegLine
          key={leg.key}
          d={pathOf(shiftRight(leg.points.map(at), legOffset))}
          index={index}
          row={leg.row}
        />
      ))}
      {places.map((place) => (
        <PlaceMark
          key={`${place.kind} ${place.label}`}
          place={place}
          x={at(place).x}
          y={at(place).y}
          route={route}
          frame={frame}
        />
      ))}
      <path
        d={`M8 ${height - 22}v6H${8 + barPx}v-6M${8 + barPx / 2} ${height - 20}v4`}
        fill="none"
        stroke={paint.ink}
        strokeWidth="1.25"
      />
      <text x={16 + barPx} y={height - 14}>
        {bar.label}
      </text>
      <g transform={`translate(${frame.width - 18} ${height - 32})`}>
        <path d="M0 -12L5 6L0 2L-5 6z" fill={paint.ink} />
        <text y="22" textAnchor="middle">
          N
        </text>
      </g>
    </>
  );
  return { height, content };
}

/** The longest round length that fits. */
function barLength(roomPx: number, perMetre: number): { lengthM: number; label: string } {
  const ticks = scaleLinear()
    .domain([0, roomPx / perMetre])
    .ticks(2);
  const lengthM = ticks[ticks.length - 1] || roomPx / perMetre;
  return { lengthM, label: lengthM >= 1000 ? `${lengthM / 1000} km` : `${lengthM} m` };
}

/** Moves a line sideways, to the right of its direction of travel, by the mean normal at each vertex. */
function shiftRight(points: readonly { x: number; y: number }[], by: number): { x: number; y: number }[] {
  return points.map((point, index) => {
    const before = points[Math.max(0, index - 1)] ?? point;
    const after = points[Math.min(points.length - 1, index + 1)] ?? point;
    const length = Math.hypot(after.x - before.x, after.y - before.y) || 1;
    return {
      x: point.x - ((after.y - before.y) / length) * by,
      y: point.y + ((after.x - before.x) / length) * by,
    };
  });
}

interface Point {
  x: number;
  y: number;
}

/** Whether the route runs through where a word over a place would stand more than through where one under it would. */
function isClearerBelow(
  place: Point,
  word: { from: number; to: number; height: number },
  route: readonly Point[],
): boolean {
  const beside = route.filter(({ x }) => x >= word.from && x <= word.to);
  const over = beside.filter(({ y }) => y < place.y && y > place.y - word.height).length;
  const under = beside.filter(({ y }) => y > place.y && y < place.y + word.height).length;
  return over > under;
}

interface PlaceMarkProps {
  place: MapPlace;
  x: number;
  y: number;
  route: readonly Point[];
  frame: Frame;
}

function PlaceMark({ place, x, y, route, frame }: PlaceMarkProps) {
  const width = textWidth(place.label, frame.text);
  const toLeft = x + 12 + width > frame.width;
  const from = toLeft ? x - 12 - width : x + 12;
  // A word's own height and its distance from the place.
  const below = isClearerBelow({ x, y }, { from, to: from + width, height: 12 + frame.text * 1.2 }, route);
  return (
    <g>
      {place.kind === 'start' ? (
        <path d={`M${x - 6} ${y - 6}h12v12h-12z`} fill={paint.ink} stroke={paint.paper} strokeWidth="2" />
      ) : (
        <circle cx={x} cy={y} r="6" fill={paint.paper} stroke={paint.ink} strokeWidth="2.5" />
      )}
      <text
        x={toLeft ? x - 12 : x + 12}
        y={below ? y + 9 + frame.text * 0.6 : y - 9}
        textAnchor={toLeft ? 'end' : 'start'}
        fontWeight="600"
        stroke={paint.paper}
        strokeWidth="4"
        paintOrder="stroke"
      >
        {place.label}
      </text>
    </g>
  );
}
