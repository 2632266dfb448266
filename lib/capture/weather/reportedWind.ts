/** The wind groups of a report: dddffGfmfm with its unit, and dndndnVdxdxdx (WMO-No. 306, FM 15, 15.5). */
import { type IMetar, SpeedUnit } from 'metar-taf-parser';
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

/** Null where the groups say nothing usable; those are then added to `unread`. */
export function readWind(
  parsed: IMetar,
  group: string | undefined,
  variation: string | undefined,
  unread: string[],
): ReportedWind | null {
  if (group === undefined) return null;
  const { wind } = parsed;
  const fromDeg = wind?.degrees ?? null;
  const isVariable = group.startsWith('VRB');
  if (wind === undefined || (!isVariable && (fromDeg === null || fromDeg > 360))) {
    unread.push(group);
    return null;
  }
  const unit: UnitCode =
    wind.unit === SpeedUnit.Knot ? 'kn' : wind.unit === SpeedUnit.MetersPerSecond ? 'm/s' : 'km/h';
  const { speed, gust } = wind;
  // No car is tested in a hurricane; and a gust is a maximum, ten knots above the mean to be reported at all.
  if (toCanonical(Math.max(speed, gust ?? 0), unit) > HIGHEST_MPS || (gust !== undefined && gust <= speed)) {
    unread.push(group);
    return null;
  }
  const gustMps = wind.gust === undefined ? null : toCanonical(wind.gust, unit);
  const speedMps = {
    value: toCanonical(wind.speed, unit),
    low: toCanonical(Math.max(0, wind.speed - 0.5), unit),
    high: toCanonical(wind.speed + 0.5, unit),
  };
  return {
    fromDeg: isVariable ? null : (fromDeg as number) % 360,
    // 00000 means less than a knot (0.5 m/s), a reading and not a direction.
    speedMps: wind.speed === 0 ? { ...exactly(0), high: toCanonical(1, unit) } : speedMps,
    gustMps,
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
