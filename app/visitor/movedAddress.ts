import { permanentRedirect } from 'next/navigation';
import { movedAddress } from '@/lib/registry/names/movedAddress';
import { registry } from './registry';

/** Leads on from an address that a loop, a model or a setup had (308), with what else the address says; else there is no page. */
export async function leadOn(
  kind: 'loop' | 'model' | 'setup',
  slug: string,
  rest = '',
  query: Readonly<Record<string, string | string[] | undefined>> = {},
): Promise<void> {
  const now = await movedAddress(registry(), kind, slug);
  if (now === undefined) return;
  const params = new URLSearchParams(
    Object.entries(query).flatMap(([name, value]) =>
      [value ?? []].flat().map((one): [string, string] => [name, one]),
    ),
  ).toString();
  permanentRedirect(`/${kind}s/${now}${rest}${params === '' ? '' : `?${params}`}`);
}
