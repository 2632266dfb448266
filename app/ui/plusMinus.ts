/** What the number after a ± says: one standard uncertainty, of which a normal error exceeds one in about three cases. */
export const PLUS_MINUS =
  'The number after ± says how far off a value may be: in about two cases of three it is closer.';
