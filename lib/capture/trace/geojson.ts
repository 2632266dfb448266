/**
 * GeoJSON (RFC 7946) LineString and MultiLineString, alone, in a Feature or in a FeatureCollection. The format has no
 * place for times; the two ways in use are read: `coordTimes` or `times` among a feature's properties (or inside its
 * `coordinateProperties`), as ISO 8601 texts or milliseconds since 1970, nested like the coordinates.
 */
import { decodeText } from '../decodeText';
import { parseInstant } from './instant';
import {
  finiteOrNull,
  PointCollector,
  refuseSize,
  refuseTrace,
  type TraceFile,
  type TraceLimits,
  type TraceRefusal,
  traceLimits,
} from './tracePoint';

interface Line {
  readonly coordinates: readonly unknown[];
  readonly times: readonly unknown[] | null;
}

export function parseGeoJson(
  input: Uint8Array | string,
  limits: TraceLimits = traceLimits,
): TraceFile | TraceRefusal {
  if (input.length > limits.maxBytes) return refuseSize(limits, 'bytes');
  let text: string;
  if (typeof input === 'string') text = input;
  else {
    const decoded = decodeText(input);
    if (!decoded.ok) return refuseTrace(decoded.message);
    text = decoded.text;
  }
  let root: unknown;
  try {
    root = JSON.parse(text);
  } catch {
    return refuseTrace('The file is not well-formed JSON.');
  }
  const lines = linesOf(root);
  if (lines.length === 0) return refuseTrace('The file holds no LineString.');

  const collector = new PointCollector();
  const notes = new Set<string>();
  for (const { coordinates, times } of lines) {
    if (times !== null && times.length !== coordinates.length) {
      return refuseTrace(`A line has ${coordinates.length} positions but ${times.length} times.`);
    }
    if (collector.pointsRead + coordinates.length > limits.maxPoints) {
      return refuseSize(limits, 'points');
    }
    for (const [at, position] of coordinates.entries()) {
      const time = times === null ? null : readTime(times[at], notes);
      const numbers = Array.isArray(position) ? position : [];
      collector.add({
        latitudeDeg: toFinite(numbers[1]),
        longitudeDeg: toFinite(numbers[0]),
        elevationM: finiteOrNull(toFinite(numbers[2])),
        timeMs: time,
        speedMps: null,
        powerW: null,
      });
    }
  }
  if (collector.pointsRead === 0) return refuseTrace('The file holds a line without positions.');
  const { points, pointsRead, refusedPoints } = collector;
  return { ok: true, name: nameOf(root), pointsRead, points, refusedPoints, notes: [...notes] };
}

function linesOf(root: unknown): Line[] {
  if (!isRecord(root)) return [];
  if (root.type === 'FeatureCollection' && Array.isArray(root.features))
    return root.features.flatMap(linesOfFeature);
  if (root.type === 'Feature') return linesOfFeature(root);
  return linesOfGeometry(root, null);
}

function linesOfFeature(feature: unknown): Line[] {
  if (!isRecord(feature)) return [];
  const properties = isRecord(feature.properties) ? feature.properties : {};
  const inner = isRecord(properties.coordinateProperties) ? properties.coordinateProperties : {};
  const times = [properties.coordTimes, properties.times, inner.times, inner.coordTimes].find(Array.isArray);
  return linesOfGeometry(feature.geometry, times ?? null);
}

function linesOfGeometry(geometry: unknown, times: readonly unknown[] | null): Line[] {
  if (!isRecord(geometry) || !Array.isArray(geometry.coordinates)) return [];
  const coordinates: readonly unknown[] = geometry.coordinates;
  if (geometry.type === 'LineString') return [{ coordinates, times }];
  if (geometry.type !== 'MultiLineString') return [];
  return coordinates.flatMap((line, at) => {
    const own = times?.[at];
    return Array.isArray(line) ? [{ coordinates: line, times: Array.isArray(own) ? own : null }] : [];
  });
}

function readTime(value: unknown, notes: Set<string>): number | null {
  if (typeof value === 'number') return finiteOrNull(value);
  const instant = typeof value === 'string' ? parseInstant(value) : null;
  if (instant === null) notes.add('Some times could not be read and count as missing.');
  else if (!instant.hasZone) notes.add('Times without a zone were taken as UTC.');
  return instant?.timeMs ?? null;
}

function nameOf(root: unknown): string | null {
  const feature = isRecord(root) && Array.isArray(root.features) ? root.features[0] : root;
  const properties = isRecord(feature) && isRecord(feature.properties) ? feature.properties : {};
  return typeof properties.name === 'string' ? properties.name.slice(0, 200) : null;
}

function toFinite(value: unknown): number {
  return typeof value === 'number' ? value : Number.NaN;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
