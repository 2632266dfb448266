import { InvalidInput } from '@/lib/run/errors';

/** The JSON object that a body is; `why` says in what form it is sent. */
export function jsonObject(body: Uint8Array, why: string): object {
  try {
    const value: unknown = JSON.parse(new TextDecoder().decode(body));
    if (typeof value === 'object' && value !== null) return value;
  } catch {
    // Told below, like any other body that is no object.
  }
  throw new InvalidInput([
    { path: 'body', what: 'The body is not a JSON object.', why, fix: 'Send it as JSON.' },
  ]);
}
