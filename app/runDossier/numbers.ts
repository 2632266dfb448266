import type { Display } from '@/lib/units/display';
import { showShare } from '@/lib/units/show';

/** A share that is stated or small beside what it is a share of: to the decimals given. */
export function percent(share: number, decimals: number, display: Display, signed = false): string {
  return showShare(share, display, { decimals, signed });
}
