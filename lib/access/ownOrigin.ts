/** What a request says of where it comes from, and which site was asked. */
interface Asked {
  /** The Origin header (RFC 6454, 7), which every browser sends with a request that changes something. */
  origin: string;
  /** The Host header, and the one before a proxy where there is one: neither is another page's to set. */
  hosts: readonly (string | null | undefined)[];
  /** The site's public address where it is told (NEXTAUTH_URL). */
  address: string | undefined;
}

/** Whether the origin is this site's own; that of a page without one ("null") is not. */
export function isOwnOrigin({ origin, hosts, address }: Asked): boolean {
  if (!URL.canParse(origin)) return false;
  const { host } = new URL(origin);
  if (host !== '' && hosts.includes(host)) return true;
  return address !== undefined && URL.canParse(address) && new URL(address).origin === origin;
}
