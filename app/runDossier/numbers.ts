import { classBandMps } from '@/lib/capture/trace/speed';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { type Display, type Kind, unitFor } from '@/lib/units/display';
import { type ShownEstimate, showEstimate, showQuantity, showShare } from '@/lib/units/show';
import type { UnitCode } from '@/lib/units/unit';

/** A run's result with its 95 % interval: every part of its page has these digits, and parts of it one more. */
export function shownResult(
  {
    normalisedWhPerKm: value,
    interval95: [low, high],
  }: Pick<NormalisedRun, 'normalisedWhPerKm' | 'interval95'>,
  unit: Kind | UnitCode,
  display: Display,
): ShownEstimate {
  return showEstimate({ value, low, high }, unit, display);
}

/** A share that is stated or small beside what it is a share of: to the decimals given. */
export function percent(share: number, decimals: number, display: Display, signed = false): string {
  return showShare(share, display, { decimals, signed });
}

/** "±3 km/h", the band about a class; a number of km/h is whole, so another unit wants one place more. */
export function classBandText(display: Display): string {
  const decimals = unitFor('speed', display) === 'km/h' ? 0 : 1;
  return `±${showQuantity(classBandMps, 'speed', display, { decimals })}`;
}
