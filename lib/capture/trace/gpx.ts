/**
 * GPX 1.1 (topografix.com/GPX/1/1/gpx.xsd) and its predecessor 1.0, read event by event.
 *
 * Taken: trk/trkseg/trkpt in file order, all tracks and segments one after the other; without any track, rte/rtept.
 * From a point: lat, lon, ele, time (UTC by the schema), and a speed, either GPX 1.0's own element or any element of
 * that local name inside extensions, in m/s. Waypoints are left out.
 *
 * Hostile files: a document type declaration is refused, so no entity can be declared, let alone expanded; depth, text
 * length, bytes and points are bounded.
 */
import { SaxesParser, type SaxesTagNS } from 'saxes';
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
  toNumber,
  traceLimits,
} from './tracePoint';

const namespaces: ReadonlySet<string> = new Set([
  'http://www.topografix.com/GPX/1/1',
  'http://www.topografix.com/GPX/1/0',
]);
const maxDepth = 60;
const maxText = 300;
const chunkLength = 1 << 16;

/** Ends the parse from inside a handler; never leaves this file. */
class StopParsing extends Error {}

export function parseGpx(
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
  if (text.trim() === '') return refuseTrace('The file is empty.');

  const reader = new GpxReader(limits);
  try {
    // In pieces, so that a broken file stops at its first fault and not after all of it was read.
    for (let at = 0; at < text.length; at += chunkLength)
      reader.parser.write(text.slice(at, at + chunkLength));
    reader.parser.close();
  } catch (error) {
    if (!(error instanceof StopParsing)) throw error;
    if (reader.hasTooMany) return refuseSize(limits, 'points');
    return refuseTrace(reader.refusal ?? 'The file is not well-formed XML.', reader.parser.line);
  }
  return reader.finish();
}

class GpxReader {
  readonly parser = new SaxesParser({ xmlns: true, position: true });
  refusal: string | null = null;
  hasTooMany = false;

  private readonly track = new PointCollector();
  private readonly route = new PointCollector();
  private readonly path: string[] = [];
  private name: string | null = null;
  private text: string | null = null;
  private point: SaxesTagNS | null = null;
  private pointDepth = 0;
  private elevation: string | null = null;
  private time: string | null = null;
  private speed: string | null = null;
  private withoutZone = 0;
  private badTimes = 0;

  constructor(private readonly limits: TraceLimits) {
    this.parser.on('doctype', () =>
      this.stop('The file declares a document type, which a trace never needs.'),
    );
    this.parser.on('error', (error) => this.stop(`The file is not well-formed XML: ${brief(error.message)}`));
    this.parser.on('opentag', (tag) => this.open(tag));
    this.parser.on('closetag', (tag) => this.close(tag));
    this.parser.on('text', (text) => this.addText(text));
    this.parser.on('cdata', (text) => this.addText(text));
  }

  finish(): TraceFile | TraceRefusal {
    const taken = this.track.pointsRead > 0 ? this.track : this.route;
    if (taken.pointsRead === 0) return refuseTrace('The file holds no track and no route.');
    const notes: string[] = [];
    if (taken === this.route) notes.push('The file holds a planned route, not a recorded track.');
    if (this.withoutZone > 0) notes.push('Times without a zone were taken as UTC, as GPX prescribes.');
    if (this.badTimes > 0) notes.push(`Times that could not be read and count as missing: ${this.badTimes}.`);
    const { points, pointsRead, refusedPoints } = taken;
    return { ok: true, name: this.name, pointsRead, points, refusedPoints, notes };
  }

  private open(tag: SaxesTagNS): void {
    if (this.path.length >= maxDepth) this.stop('The file is nested more deeply than any trace.');
    if (this.path.length === 0 && (tag.local !== 'gpx' || !namespaces.has(tag.uri))) {
      this.stop('The file is XML but not GPX 1.1: its root is not gpx in the GPX namespace.');
    }
    this.path.push(tag.local);
    if (this.point === null) {
      if (tag.local === 'trkpt' || tag.local === 'rtept') {
        this.point = tag;
        this.pointDepth = this.path.length;
        this.elevation = null;
        this.time = null;
        this.speed = null;
      } else if (tag.local === 'name') this.text = '';
    } else if (this.isWanted(tag)) this.text = '';
  }

  /** ele and time stand directly in the point; a speed may stand deeper, in extensions. */
  private isWanted(tag: SaxesTagNS): boolean {
    const isDirect = this.path.length === this.pointDepth + 1;
    return (isDirect && (tag.local === 'ele' || tag.local === 'time')) || tag.local === 'speed';
  }

  private addText(text: string): void {
    if (this.text !== null && this.text.length < maxText) this.text += text.slice(0, maxText);
  }

  private close(tag: SaxesTagNS): void {
    const depth = this.path.length;
    this.path.pop();
    if (this.point === null) {
      // trk/name or metadata/name: the first is the file's.
      if (tag.local === 'name' && this.text !== null) this.name ??= this.text.trim().slice(0, 200) || null;
      this.text = null;
      return;
    }
    if (depth === this.pointDepth) {
      this.addPoint(this.point);
      this.point = null;
    } else if (this.text !== null) {
      if (tag.local === 'ele') this.elevation = this.text;
      else if (tag.local === 'time') this.time = this.text;
      else if (tag.local === 'speed') this.speed = this.text;
    }
    this.text = null;
  }

  private addPoint(tag: SaxesTagNS): void {
    const collector = tag.local === 'trkpt' ? this.track : this.route;
    if (collector.pointsRead >= this.limits.maxPoints) {
      this.hasTooMany = true;
      throw new StopParsing();
    }
    const instant = this.time === null ? null : parseInstant(this.time);
    if (instant !== null && !instant.hasZone) this.withoutZone++;
    if (instant === null && this.time !== null) this.badTimes++;
    const speed = toNumber(this.speed);
    collector.add({
      latitudeDeg: toNumber(tag.attributes.lat?.value),
      longitudeDeg: toNumber(tag.attributes.lon?.value),
      elevationM: finiteOrNull(toNumber(this.elevation)),
      timeMs: instant?.timeMs ?? null,
      speedMps: finiteOrNull(speed),
      powerW: null,
    });
  }

  private stop(message: string): never {
    this.refusal ??= message;
    throw new StopParsing();
  }
}

function brief(message: string): string {
  // The parser puts the position first; it is reported apart.
  return message.replace(/^\d+:\d+:\s*/, '').slice(0, 160);
}
