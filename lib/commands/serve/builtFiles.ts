import { join } from 'node:path';
import sirv from 'sirv';
import type { Handler } from './webListener';

const PLACE = '/_next/static/';
const YEAR_S = 31_536_000;

/**
 * Scripts, styles and fonts of the build, as `compressBuilt` left them, by what the browser takes; their names change with
 * their contents. Everything else, what is missing included, is the handler's. The framework would compress each of
 * them anew for everyone who asks, which takes as long as making a small page.
 */
export function builtFiles(built: string, handler: Handler): Handler {
  const files = sirv(join(built, 'static'), {
    brotli: true,
    gzip: true,
    etag: true,
    immutable: true,
    maxAge: YEAR_S,
    extensions: [],
    setHeaders: (response) => response.setHeader('X-Content-Type-Options', 'nosniff'),
  });
  return (request, response) => {
    const { url = '', method } = request;
    if (!url.startsWith(PLACE) || (method !== 'GET' && method !== 'HEAD')) return handler(request, response);
    // Asked for whole: a part of a script is of no use, and odd ranges would be faults (RFC 9110, 14.2 lets them be).
    delete request.headers.range;
    request.url = url.slice(PLACE.length - 1);
    return files(request, response, () => {
      request.url = url;
      return handler(request, response);
    });
  };
}
