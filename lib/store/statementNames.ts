/** Statements of one connection that the server keeps: each takes it some ten kilobytes. */
const MOST_NAMED = 300;
/** Asked so often, a statement is asked again; lists of keys make texts that never come back. */
const ASKED_BEFORE = 3;
const MOST_WATCHED = 3000;

/**
 * Names for statements that are asked again and again, so that the server parses and plans each once a connection and
 * not at every request: for reads by key that is most of what they cost. '' leaves a statement without a name.
 */
export function statementNames(): (query: { readonly sql: string }) => string {
  const named = new Map<string, string>();
  const watched = new Map<string, number>();
  return ({ sql }) => {
    const name = named.get(sql);
    if (name !== undefined) return name;
    if (named.size >= MOST_NAMED) return '';
    const times = (watched.get(sql) ?? 0) + 1;
    if (times < ASKED_BEFORE) {
      if (watched.size >= MOST_WATCHED) watched.clear();
      watched.set(sql, times);
      return '';
    }
    watched.delete(sql);
    const given = `s${named.size}`;
    named.set(sql, given);
    return given;
  };
}
