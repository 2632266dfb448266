/** The embedded PostgreSQL cannot be prepared, started or reached; the message says what to do. */
export class ServerError extends Error {
  override readonly name = 'ServerError';
}
