/** The wind groups of a report: dddffGfmfm with its unit, and dndndnVdxdxdx (WMO-No. 306, FM 15, 15.5). */
import { toCanonical, type UnitCode } from '@/lib/units/unit';
import { exactly, type Interval } from '../readings';

export interface ReportedWind {
  /** Where it blows from, degrees from true north; null when it varies too much to say. */
  readonly fromDeg: number | null;
  readonly speedMps: Interval;
  readonly gustMps: number | null;
  /** In which speeds were reported, to a whole one. */
  readonly unit: UnitCode;
  /** Extremes of the direction, clockwise from the first to the second. */
  readonly variesBetweenDeg: readonly [number, number] | null;
}

/** Above it a speed is a slip of the digits. Own judgement. */
const HIGHEST_MPS = toCanonical(90, 'kn');

const UNITS: Readonly<Record<string, UnitCode>> = { KT: 'kn', MPS: 'm/s', KMH: 'km/h' };

/** Null where the groups say nothing usable; those are then added to `unread`. */
export function readWind(
  group: string | undefined,
  variation: string | undefined,
  unread: string[],
): ReportedWind | null {
  if (group === undefined) return null;
  const [, from = '', speedText, gustText, unitText = ''] =
    /^(\d{3}|VRB)P?(\d{2,3})(?:GP?(\d{2,3}))?(KT|MPS|KMH)$/.exec(group) ?? [];
  const unit = UNITS[unitText];
  const fromDeg = from === 'VRB' ? null : Number(from);
  const speed = Number(speedText);
  const gust = gustText === undefined ? undefined : Number(gustText);
  const isPossible =
    unit !== undefined &&
    (fromDeg === null || fromDeg <= 360) &&
    // no car is tested in a hurricane; and a gust is a maximum, well above the mean to be reported at all
    toCanonical(Math.max(speed, gust ?? 0), unit) <= HIGHEST_MPS &&
    (gust === undefined || gust > speed);
  if (!isPossible) {
    unread.push(group);
    return null;
  }
  const speedMps = {
    value: toCanonical(speed, unit),
    low: toCanonical(Math.max(0, speed - 0.5), unit),
    high: toCanonical(speed + 0.5, unit),
  };
  return {
    fromDeg: fromDeg === null ? null : fromDeg % 360,
    // 00000 means less than a knot (0.5 m/s), a reading and not a direction.
    speedMps: speed === 0 ? { ...exactly(0), high: toCanonical(1, unit) } : speedMps,
    gustMps: gust === undefined ? null : toCanonical(gust, unit),
    unit,
    variesBetweenDeg: readVariation(variation, unread),
  };
}

function readVariation(group: string | undefined, unread: string[]): [number, number] | null {
  if (group === undefined) return null;
  const [from, to] = group.split('V').map(Number) as [number, number];
  if (from <= 360 && to <= 360) return [from % 360, to % 360];
  unread.push(group);
  return null;
}
