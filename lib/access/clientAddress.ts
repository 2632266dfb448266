import { isIP } from 'node:net';

/** Set by the web process on every request, whatever the sender wrote there; empty where no address is known. */
export const CLIENT_ADDRESS_HEADER = 'x-evenloop-address';

/** How many proxies stand in front, all of them the operator's own (EVENLOOP_PROXIES): none unless it is said. */
export function proxiesFrom(setting: string | undefined): number {
  const proxies = Number(setting ?? '');
  return Number.isInteger(proxies) && proxies >= 0 && proxies <= 10 ? proxies : 0;
}

/**
 * The network that a request comes from. Each proxy adds whom it heard from to X-Forwarded-For at the end: as many
 * entries as there are proxies of one's own can be believed, what stands before them is the sender's to invent.
 * Undefined for this machine itself: that is a proxy nobody told of, and counting by it would make all visitors one.
 */
export function clientAddress(
  peer: string | undefined,
  forwardedFor: string | undefined,
  proxies: number,
): string | undefined {
  const chain = [...(forwardedFor?.split(',') ?? []), peer ?? ''];
  const address = (chain[Math.max(0, chain.length - 1 - proxies)] ?? '').trim().toLowerCase();
  const plain = address.replace(/^::ffff:(?=\d+\.)/, '').replace(/%.*$/, '');
  if (isIP(plain) === 4) return plain.startsWith('127.') ? undefined : plain;
  if (isIP(plain) !== 6 || plain === '::1') return undefined;
  return `${firstGroups(plain).join(':')}::/64`;
}

/** One household or machine holds a whole /64 of IPv6 (RFC 6177, 2): counted one by one, addresses never run out. */
function firstGroups(address: string): string[] {
  const [before = '', after] = address.split('::');
  const head = before.split(':').filter(Boolean);
  const tail = after?.split(':').filter(Boolean) ?? [];
  // A tail in dotted form stands for two groups.
  const written = head.length + tail.length + (tail.at(-1)?.includes('.') ? 1 : 0);
  const zeros = after === undefined ? 0 : Math.max(0, 8 - written);
  const groups = [...head, ...Array.from({ length: zeros }, () => '0'), ...tail];
  return groups.slice(0, 4).map((group) => Number.parseInt(group, 16).toString(16));
}
