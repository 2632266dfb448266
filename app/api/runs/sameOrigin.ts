import { NotAllowed } from '@/lib/run/errors';

/**
 * Throws unless the request comes from a page of this site (the Origin header, RFC 6454, which every browser sends
 * with a request that changes something). A cookie alone does not tell who made the browser send it.
 */
export function requireSameOrigin(request: Request): void {
  const origin = request.headers.get('origin');
  const host = request.headers.get('host');
  const own = process.env.NEXTAUTH_URL;
  const isOwn =
    origin !== null && URL.canParse(origin) && (new URL(origin).host === host || isOriginOf(own, origin));
  if (!isOwn) throw new NotAllowed('This request does not come from a page of this site.', true);
}

function isOriginOf(address: string | undefined, origin: string): boolean {
  return address !== undefined && URL.canParse(address) && new URL(address).origin === origin;
}
