import { classBandMps } from '@/lib/capture/trace/speed';
import { type Display, unitFor } from '@/lib/units/display';
import { showQuantity, showShare } from '@/lib/units/show';

/** A share that is stated or small beside what it is a share of: to the decimals given. */
export function percent(share: number, decimals: number, display: Display, signed = false): string {
  return showShare(share, display, { decimals, signed });
}

/** "±3 km/h", the band about a class; a number of km/h is whole, so another unit wants one place more. */
export function classBandText(display: Display): string {
  const decimals = unitFor('speed', display) === 'km/h' ? 0 : 1;
  return `±${showQuantity(classBandMps, 'speed', display, { decimals })}`;
}
