import type { Proposed } from '@/lib/registry/corrections/propose';

/** Where a correction leads: to its own page where it waits for a review, else back to what was changed at once. */
export function proposedHref(proposed: Proposed, changedHref: string): string {
  return proposed.kind === 'proposed' ? `/corrections/${proposed.number}?notice=proposed` : changedHref;
}
