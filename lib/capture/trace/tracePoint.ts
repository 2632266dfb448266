/** One recorded position, WGS 84. Null where the file does not say. */
export interface TracePoint {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly elevationM: number | null;
  /** Milliseconds since 1970-01-01T00:00:00Z. */
  readonly timeMs: number | null;
  /** Speed over ground as the receiver reported it. */
  readonly speedMps: number | null;
  /** Power drawn from the battery, where a logger gave it; below zero while recuperating. */
  readonly powerW: number | null;
}

/** A point that could not be used at all, with where it stands in the file. */
export interface RefusedPoint {
  /** Its number among all points of the file, from 1. */
  readonly ordinal: number;
  readonly reason: string;
}

/** A file read to its end. `pointsRead` = points.length + refusedPoints.length, always. */
export interface TraceFile {
  readonly ok: true;
  readonly name: string | null;
  readonly pointsRead: number;
  readonly points: readonly TracePoint[];
  readonly refusedPoints: readonly RefusedPoint[];
  /** Whole sentences about what was assumed. */
  readonly notes: readonly string[];
}

export interface TraceRefusal {
  readonly ok: false;
  readonly message: string;
  /** From 1; null where the trouble is not at one place. */
  readonly line: number | null;
  /** More bytes or points than the limits allow: not a fault of the file. */
  readonly isTooLarge: boolean;
}

export interface TraceLimits {
  readonly maxBytes: number;
  readonly maxPoints: number;
}

/** A day at ten points a second is 864 000 points; a GPX of half a million is about 60 MB. */
export const traceLimits: TraceLimits = { maxBytes: 64 * 1024 * 1024, maxPoints: 500_000 };

export function refuseTrace(message: string, line: number | null = null): TraceRefusal {
  return { ok: false, message, line, isTooLarge: false };
}

export function refuseSize({ maxBytes, maxPoints }: TraceLimits, what: 'bytes' | 'points'): TraceRefusal {
  const message =
    what === 'bytes'
      ? `The trace is larger than ${maxBytes / 1048576} MB.`
      : `The trace has more than ${maxPoints} points.`;
  return { ok: false, message, line: null, isTooLarge: true };
}

/** Gathers points and keeps count of those that cannot be used, so that none is lost unsaid. */
export class PointCollector {
  readonly points: TracePoint[] = [];
  readonly refusedPoints: RefusedPoint[] = [];

  get pointsRead(): number {
    return this.points.length + this.refusedPoints.length;
  }

  add(point: TracePoint): void {
    const { latitudeDeg, longitudeDeg } = point;
    if (!(Math.abs(latitudeDeg) <= 90)) this.refuse('its latitude is not a number from −90 to 90');
    else if (!(Math.abs(longitudeDeg) <= 180)) this.refuse('its longitude is not a number from −180 to 180');
    // Receivers write exactly 0, 0 before their first fix; no road goes there.
    else if (latitudeDeg === 0 && longitudeDeg === 0) this.refuse('it has no position (0, 0)');
    else this.points.push({ ...point, ...plausible(point) });
  }

  refuse(reason: string): void {
    this.refusedPoints.push({ ordinal: this.pointsRead + 1, reason });
  }
}

/** A height or a speed that no road vehicle can have is a missing one; the position is still good. */
function plausible({ elevationM, speedMps }: TracePoint): Pick<TracePoint, 'elevationM' | 'speedMps'> {
  return {
    elevationM: elevationM !== null && elevationM > -500 && elevationM < 9000 ? elevationM : null,
    speedMps: speedMps !== null && speedMps >= 0 && speedMps < 150 ? speedMps : null,
  };
}

/** A plain decimal number, or NaN; an empty text is not zero, and one of 40 characters is no reading. */
export function toNumber(text: string | null | undefined): number {
  const trimmed = (text ?? '').trim();
  if (trimmed.length > 40) return Number.NaN;
  return /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d{1,3})?$/.test(trimmed) ? Number(trimmed) : Number.NaN;
}

export function finiteOrNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
