import { isSlug } from '@/lib/run/slug';
import { type AddressedKind, movedFrom } from '@/lib/store/pastAddresses';
import type { Registry } from '../registry';

/** The address that a thing has now which had this one, or was merged into another; undefined where nothing moved. */
export async function movedAddress(
  registry: Registry,
  kind: AddressedKind | 'setup',
  slug: string,
): Promise<string | undefined> {
  if (!isSlug(slug)) return undefined;
  const now = await movedFrom(registry.db, kind, slug);
  return now === null || now === slug ? undefined : now;
}

/** An address out of a filter as it is now; what is none stays what it is. */
export async function addressNow(
  registry: Registry,
  kind: AddressedKind | 'setup',
  slug: string | undefined,
): Promise<string | undefined> {
  return slug === undefined ? undefined : ((await movedAddress(registry, kind, slug)) ?? slug);
}
