/** Milliseconds since 1970 of an ISO 8601 instant; a text that is none is a slip of the caller. */
export function millisecondsOf(instant: string): number {
  const milliseconds = Date.parse(instant);
  if (Number.isNaN(milliseconds)) throw new RangeError(`not an ISO 8601 instant: ${instant}`);
  return milliseconds;
}
