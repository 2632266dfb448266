import { randomBytes } from 'node:crypto';

/** 128 bits, as the standard asks for at least (https://www.w3.org/TR/CSP3/#security-nonces). */
export function newNonce(): string {
  return randomBytes(16).toString('base64');
}

/**
 * What an answer may load. Nothing comes from another origin: fonts, scripts and pictures ship with the app. A script in
 * the page itself runs only with the nonce of its request, which the framework puts on its own. Styles are set on
 * elements, which no nonce can mark.
 */
export function contentPolicy(path: string, nonce: string, isDev: boolean): string {
  // Stored pictures are data of others: whatever they hold, it may run and load nothing.
  if (path.startsWith('/files/')) return "default-src 'none'; sandbox";
  // A figure's file carries its faces and its colours inside and needs nothing else.
  if (path.startsWith('/figures/'))
    return "default-src 'none'; style-src 'unsafe-inline'; font-src data:; sandbox";
  // A live figure may stand in anybody's page: it is text and a drawing alone, and its one link opens beside that page.
  if (path.startsWith('/embed/'))
    return "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors *; sandbox allow-popups allow-popups-to-escape-sandbox";
  return [
    "default-src 'self'",
    // The development server compiles with eval.
    `script-src 'self' 'nonce-${nonce}'${isDev ? " 'unsafe-eval'" : ''}`,
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data: blob:",
    "font-src 'self' data:",
    "connect-src 'self'",
    "worker-src 'self' blob:",
    "manifest-src 'self'",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join('; ');
}
