import geodesic from 'geographiclib-geodesic';
import type { TracePoint } from '@/lib/capture/trace/tracePoint';

/** A made-up out-and-back with everything about it known: a bent road, one cruise speed, a halt at the far end. */
export interface Drive {
  readonly start: { latitudeDeg: number; longitudeDeg: number };
  /** Straight pieces of the way out: length and direction. */
  readonly pieces: readonly { lengthM: number; bearingDeg: number }[];
  readonly cruiseMps: number;
  readonly accelerationMps2: number;
  readonly haltS: number;
  readonly stepS: number;
  readonly heightAt?: (alongM: number) => number;
  readonly startMs: number;
}

type Piece = Drive['pieces'][number];

function straight(lengthM: number, bearingDeg: number): Piece[] {
  return [{ lengthM, bearingDeg }];
}

/** A curve of 1 km radius or so, in steps small enough that chords between fixes do not cut it. */
function bend(fromDeg: number, toDeg: number): Piece[] {
  const steps = Math.abs(toDeg - fromDeg);
  return Array.from({ length: steps }, (_, k) => ({
    lengthM: 18,
    bearingDeg: fromDeg + ((toDeg - fromDeg) * (k + 0.5)) / steps,
  }));
}

export const coastDrive: Drive = {
  start: { latitudeDeg: 47.3, longitudeDeg: 8.4 },
  pieces: [
    ...straight(9_000, 80),
    ...bend(80, 35),
    ...straight(12_000, 35),
    ...bend(35, 113),
    ...straight(6_000, 113),
  ],
  cruiseMps: 110 / 3.6,
  accelerationMps2: 1,
  haltS: 30,
  stepS: 1,
  heightAt: (alongM) => 400 + 40 * Math.sin((2 * Math.PI * alongM) / 9_720),
  startMs: Date.UTC(2026, 4, 1, 8, 0, 0),
};

export interface DriveTruth {
  readonly points: TracePoint[];
  readonly outboundM: number;
  readonly totalM: number;
  readonly durationS: number;
  /** ∫v³dt/∫v dt in closed form for four equal ramps and two cruises. */
  readonly meanSquareSpeedM2S2: number;
  readonly cruiseM: number;
  readonly haltStartS: number;
}

export function drive(plan: Drive): DriveTruth {
  const outboundM = plan.pieces.reduce((sum, piece) => sum + piece.lengthM, 0);
  const v = plan.cruiseMps;
  const rampS = v / plan.accelerationMps2;
  const rampM = (v * rampS) / 2;
  const legCruiseM = outboundM - 2 * rampM;
  const legS = 2 * rampS + legCruiseM / v;
  const durationS = 2 * legS + plan.haltS;
  const totalM = 2 * outboundM;

  const along = (t: number): number => {
    if (t <= rampS) return (plan.accelerationMps2 * t * t) / 2;
    if (t <= legS - rampS) return rampM + v * (t - rampS);
    if (t <= legS) return outboundM - (plan.accelerationMps2 * (legS - t) ** 2) / 2;
    return outboundM;
  };
  const routeAt = (t: number): number => {
    if (t <= legS + plan.haltS) return along(Math.min(t, legS));
    return outboundM - along(t - legS - plan.haltS);
  };

  const points: TracePoint[] = [];
  const count = Math.round(durationS / plan.stepS);
  for (let k = 0; k <= count; k++) {
    const t = (k * durationS) / count;
    const x = routeAt(t);
    const place = placeAlong(plan, x);
    points.push({
      ...place,
      elevationM: plan.heightAt?.(x) ?? null,
      timeMs: plan.startMs + Math.round(1000 * t),
      speedMps: null,
      powerW: null,
    });
  }
  // A ramp from 0 to v contributes ∫v³dt = v⁴/(4a) and ∫v dt = v²/(2a).
  const third = 4 * (v ** 4 / (4 * plan.accelerationMps2)) + 2 * v * v * legCruiseM;
  return {
    points,
    outboundM,
    totalM,
    durationS,
    meanSquareSpeedM2S2: third / totalM,
    cruiseM: 2 * legCruiseM,
    haltStartS: legS,
  };
}

export function placeAlong(plan: Drive, alongM: number): { latitudeDeg: number; longitudeDeg: number } {
  const ends = endsOf(plan);
  const piece = ends.findLast(({ fromM }) => fromM <= alongM) ?? (ends[0] as PieceEnd);
  return step(piece, piece.bearingDeg, alongM - piece.fromM);
}

interface PieceEnd {
  readonly fromM: number;
  readonly bearingDeg: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

const endsByPlan = new WeakMap<Drive, PieceEnd[]>();

/** Where each piece begins, worked out once a plan. */
function endsOf(plan: Drive): PieceEnd[] {
  const known = endsByPlan.get(plan);
  if (known !== undefined) return known;
  let place = plan.start;
  let fromM = 0;
  const ends = plan.pieces.map(({ lengthM, bearingDeg }) => {
    const end = { fromM, bearingDeg, ...place };
    place = step(place, bearingDeg, lengthM);
    fromM += lengthM;
    return end;
  });
  endsByPlan.set(plan, ends);
  return ends;
}

function step(place: Drive['start'], bearingDeg: number, lengthM: number): Drive['start'] {
  const end = geodesic.Geodesic.WGS84.Direct(place.latitudeDeg, place.longitudeDeg, bearingDeg, lengthM);
  return { latitudeDeg: end.lat2 as number, longitudeDeg: end.lon2 as number };
}

export function toGpx(points: readonly TracePoint[]): string {
  const rows = points.map(({ latitudeDeg, longitudeDeg, elevationM, timeMs }) => {
    const ele = elevationM === null ? '' : `<ele>${elevationM.toFixed(2)}</ele>`;
    const time = timeMs === null ? '' : `<time>${new Date(timeMs).toISOString()}</time>`;
    return `<trkpt lat="${latitudeDeg.toFixed(7)}" lon="${longitudeDeg.toFixed(7)}">${ele}${time}</trkpt>`;
  });
  return `<?xml version="1.0" encoding="UTF-8"?>
<gpx version="1.1" creator="logger" xmlns="http://www.topografix.com/GPX/1/1">
<trk><name>Coast loop</name><trkseg>
${rows.join('\n')}
</trkseg></trk></gpx>`;
}
