import { isOwnOrigin } from '@/lib/access/ownOrigin';
import { NotAllowed } from '@/lib/run/errors';

/**
 * Throws unless the request comes from a page of this site. A cookie alone does not tell who made the browser send it;
 * a request that does not say where it comes from is refused too.
 */
export function requireSameOrigin(request: Request): void {
  const origin = request.headers.get('origin');
  const hosts = [request.headers.get('host')];
  if (origin === null || !isOwnOrigin({ origin, hosts, address: process.env.NEXTAUTH_URL }))
    throw new NotAllowed('This request does not come from a page of this site.', true, {
      act: 'askFromOtherSite',
    });
}
