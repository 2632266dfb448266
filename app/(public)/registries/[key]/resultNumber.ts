import type { Row } from '@/lib/openData/column';
import type { Display } from '@/lib/units/display';
import { showWithUncertainty } from '@/lib/units/show';

/** A run of another registry at reference conditions, with its standard uncertainty; no unit. */
export function resultNumber(result: Row | undefined, display: Display): string {
  const { normalised_wh_per_km: value, u_wh_per_km: u } = result ?? {};
  if (typeof value !== 'number' || typeof u !== 'number') return 'outside the method’s reach';
  return showWithUncertainty(value, u, 'consumption', display, { bare: true });
}
