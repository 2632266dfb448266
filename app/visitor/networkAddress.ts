import { headers } from 'next/headers';
import { CLIENT_ADDRESS_HEADER } from '@/lib/access/clientAddress';

/** Where this request comes from, as the web process saw it; undefined where it cannot be told. */
export async function networkAddress(): Promise<string | undefined> {
  return (await headers()).get(CLIENT_ADDRESS_HEADER) || undefined;
}
