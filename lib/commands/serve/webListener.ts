import { randomUUID } from 'node:crypto';
import type { IncomingMessage, ServerResponse } from 'node:http';
import { contentPolicy, newNonce } from './contentPolicy';

export type Handler = (request: IncomingMessage, response: ServerResponse) => Promise<void> | void;

/** How long an answer may take to begin. */
const ANSWER_MS = 60_000;

/**
 * What every request passes through before the framework sees it: a number of its own, which the log and the answer
 * name; the policy with its nonce, which the framework reads from the request and the browser from the answer; and an
 * end to its patience.
 */
export function webListener(handler: Handler, isDev: boolean, answerMs = ANSWER_MS): Handler {
  return async (request, response) => {
    const requestId = randomUUID();
    const policy = contentPolicy(pathOf(request.url), newNonce(), isDev);
    // Never the sender's: a nonce that they know would be none.
    delete request.headers['content-security-policy-report-only'];
    request.headers['content-security-policy'] = policy;
    request.headers['x-request-id'] = requestId;
    response.setHeader('Content-Security-Policy', policy);
    response.setHeader('X-Request-Id', requestId);
    const patience = setTimeout(() => refuse(response, 503, 'This took too long. Try again.'), answerMs);
    response.once('close', () => clearTimeout(patience));
    try {
      await handler(request, response);
    } catch (error) {
      console.error(`request ${requestId}: ${request.method} ${pathOf(request.url)}`, error);
      refuse(response, 500, `Something went wrong here. Request ${requestId}.`);
    }
  };
}

function pathOf(url = '/'): string {
  const end = url.search(/[?#]/);
  return end === -1 ? url : url.slice(0, end);
}

/** An answer in plain words, unless one has begun. */
function refuse(response: ServerResponse, status: number, words: string): void {
  if (response.headersSent) return;
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8', 'Cache-Control': 'no-store' });
  response.end(`${words}\n`);
}
