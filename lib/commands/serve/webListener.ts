import { randomUUID } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { ASKED_ADDRESS_HEADER } from '@/lib/access/askedAddress';
import { CLIENT_ADDRESS_HEADER, clientAddress, proxiesFrom } from '@/lib/access/clientAddress';
import { isOwnOrigin } from '@/lib/access/ownOrigin';
import { allowedInstead } from './apiMethods';
import { contentPolicy, newNonce } from './contentPolicy';

export type Handler = (request: IncomingMessage, response: ServerResponse) => Promise<void> | void;

/** How long an answer may take to begin. */
const ANSWER_MS = 60_000;

/**
 * What every request passes through before the framework sees it: a number of its own, which the log and the answer
 * name; the policy with its nonce, which the framework reads from the request and the browser from the answer; where it
 * comes from; and an end to its patience.
 */
export function webListener(handler: Handler, isDev: boolean, answerMs = ANSWER_MS): Handler {
  const proxies = proxiesFrom(process.env.EVENLOOP_PROXIES);
  // RFC 6797, 7.2: never over plain HTTP, where a browser must not heed it.
  const isHttps = process.env.NEXTAUTH_URL?.startsWith('https:') ?? false;
  return async (request, response) => {
    const requestId = randomUUID();
    const policy = contentPolicy(pathOf(request.url), newNonce(), isDev);
    // Never the sender's: a nonce that they know would be none.
    delete request.headers['content-security-policy-report-only'];
    request.headers['content-security-policy'] = policy;
    request.headers['x-request-id'] = requestId;
    request.headers[ASKED_ADDRESS_HEADER] = request.url ?? '';
    request.headers[CLIENT_ADDRESS_HEADER] = addressOf(request, proxies) ?? '';
    response.setHeader('Content-Security-Policy', policy);
    response.setHeader('X-Request-Id', requestId);
    if (isHttps) response.setHeader('Strict-Transport-Security', 'max-age=31536000');
    const patience = setTimeout(
      () => refuse(request, response, 503, 'This took too long. Try again.'),
      answerMs,
    );
    response.once('close', () => clearTimeout(patience));
    if (!isDecodable(pathOf(request.url))) {
      refuse(request, response, 400, 'This is not an address: a part of it cannot be decoded.');
      return;
    }
    if (isForeign(request)) {
      refuse(request, response, 403, 'This request does not come from a page of this site.');
      return;
    }
    const allowed = allowedInstead(pathOf(request.url), request.method);
    if (allowed !== undefined) {
      response.setHeader('Allow', allowed);
      refuse(request, response, 405, 'This address does not take this method.');
      return;
    }
    try {
      await handler(request, response);
    } catch (error) {
      console.error(`request ${requestId}: ${request.method} ${pathOf(request.url)}`, error);
      refuse(request, response, 500, `Something went wrong here. Request ${requestId}.`);
    }
  };
}

/** A change sent by a page of another site: the framework refuses it as well, but as a fault of its own. */
function isForeign({ method, headers }: IncomingMessage): boolean {
  const { origin, host } = headers;
  if (origin === undefined || method === 'GET' || method === 'HEAD' || method === 'OPTIONS') return false;
  const forwarded = [headers['x-forwarded-host']].flat();
  return !isOwnOrigin({ origin, hosts: [host, ...forwarded], address: process.env.NEXTAUTH_URL });
}

function addressOf({ socket, headers }: IncomingMessage, proxies: number): string | undefined {
  const forwarded = [headers['x-forwarded-for'] ?? []].flat().join(',');
  return clientAddress(socket.remoteAddress, forwarded === '' ? undefined : forwarded, proxies);
}

/** Percent-encoding that is no UTF-8 (RFC 3986, 2.5): the framework answers it with a fault of its own. */
function isDecodable(path: string): boolean {
  try {
    decodeURIComponent(path);
    return true;
  } catch {
    return false;
  }
}

function pathOf(url = '/'): string {
  const end = url.search(/[?#]/);
  return end === -1 ? url : url.slice(0, end);
}

/** An answer in plain words, unless one has begun; to a program, as problem details (RFC 9457). */
function refuse(request: IncomingMessage, response: ServerResponse, status: number, words: string): void {
  if (response.headersSent) return;
  const isForProgram = pathOf(request.url).startsWith('/api/');
  response.writeHead(status, {
    'Content-Type': isForProgram ? 'application/problem+json' : 'text/plain; charset=utf-8',
    'Cache-Control': 'no-store',
  });
  const problem = { type: 'about:blank', status, title: words, issues: [] };
  response.end(isForProgram ? JSON.stringify(problem) : `${words}\n`);
}
