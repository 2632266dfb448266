/** What the number after a ± says: one standard uncertainty, of which a normal error exceeds one in about three cases. */
export const PLUS_MINUS =
  'After ± stands what a value may be off by: in about two cases of three it is off by less.';
