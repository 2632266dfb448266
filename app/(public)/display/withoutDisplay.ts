import { ADDRESS_NAMES } from '@/lib/units/display';

/** A path of this site without what its address said of units: whoever chose anew wants to see the choice. */
export function withoutDisplay(path: string): string {
  const url = new URL(path, 'http://local.invalid');
  for (const name of Object.values(ADDRESS_NAMES)) url.searchParams.delete(name);
  return `${url.pathname}${url.search}${url.hash}`;
}
