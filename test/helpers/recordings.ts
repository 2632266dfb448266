import type { TracePoint } from '@/lib/capture/trace/tracePoint';
import { type Drive, drive, toGpx } from '../lib/capture/trace/syntheticDrive';

/** Out and back over 107.5 km at a true 70 mph, as `completeForm` describes it: 14 May 2026, 09:30 at UTC+1. */
export const causewayDrive: Drive = {
  start: { latitudeDeg: 47.1, longitudeDeg: 15.2 },
  pieces: [
    { lengthM: 20_000, bearingDeg: 20 },
    { lengthM: 13_750, bearingDeg: 32 },
    { lengthM: 20_000, bearingDeg: 8 },
  ],
  cruiseMps: (70 * 1609.344) / 3600,
  accelerationMps2: 1,
  haltS: 30,
  stepS: 2,
  heightAt: (alongM) => 20 + (10 * alongM) / 53_750,
  startMs: Date.UTC(2026, 4, 14, 8, 30),
};

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

export function recording(changes: Partial<Drive> = {}): Uint8Array {
  return bytesOf(toGpx(drive({ ...causewayDrive, ...changes }).points));
}

/** Several drives from one place with a parked quarter of an hour between, as one recording. */
export function dayOf(drives: readonly Drive[]): TracePoint[] {
  return drives.flatMap((plan, at) => {
    const { points } = drive(plan);
    const last = points.at(-1) as TracePoint;
    const parked = Array.from({ length: at < drives.length - 1 ? 90 : 0 }, (_, k) => ({
      ...last,
      timeMs: (last.timeMs ?? 0) + (k + 1) * 10_000,
    }));
    return [...points, ...parked];
  });
}

export function toCsv(points: readonly TracePoint[], heads: readonly string[], separator = ';'): Uint8Array {
  const rows = points.map(({ latitudeDeg, longitudeDeg, timeMs, elevationM }) =>
    [
      ((timeMs ?? 0) / 1000).toFixed(1),
      latitudeDeg.toFixed(7),
      longitudeDeg.toFixed(7),
      elevationM ?? '',
    ].join(separator),
  );
  return bytesOf([heads.join(separator), ...rows].join('\n'));
}

export function toGeoJson(points: readonly TracePoint[]): Uint8Array {
  return bytesOf(
    JSON.stringify({
      type: 'Feature',
      properties: { coordTimes: points.map(({ timeMs }) => new Date(timeMs ?? 0).toISOString()) },
      geometry: {
        type: 'LineString',
        coordinates: points.map(({ latitudeDeg, longitudeDeg, elevationM }) => [
          longitudeDeg,
          latitudeDeg,
          elevationM ?? 0,
        ]),
      },
    }),
  );
}
