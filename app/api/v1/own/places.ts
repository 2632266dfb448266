import { RUN_FORM_NAMES } from '@/lib/run/runForm';

/** Where a fault lies, as RFC 9457 says it of a body, and by name where it lies in the query or in a header. */
export interface Place {
  pointer?: string;
  parameter?: string;
  header?: string;
}

const FIELDS: ReadonlySet<string> = new Set(RUN_FORM_NAMES);
/** Paths of the use cases that stand for the query of a file's address. */
const OF_QUERY: ReadonlySet<string> = new Set(['query', 'columns']);
/** About the whole of what was sent. */
const OF_WHOLE: ReadonlySet<string> = new Set(['', 'body', 'trace', 'bytes', 'evidence', 'draftVersion']);

/** From the path of an issue: of the form's fields, of the body, of the query or of a header. */
export function placeOf(path: string): Place {
  const [first = '', ...rest] = path.split('.');
  const [second] = rest;
  const named = path.slice(first.length + 1);
  if (first === 'header' && second !== undefined) return { header: named };
  if (OF_QUERY.has(first) && second !== undefined) return { parameter: named };
  if (OF_WHOLE.has(first)) return {};
  if (FIELDS.has(first)) return { pointer: pointerTo(['fields', first]) };
  return { pointer: pointerTo([first === 'form' ? 'fields' : first, ...rest]) };
}

/** RFC 6901, 3 and 6: as a fragment, with what a URI does not hold encoded. */
function pointerTo(names: readonly string[]): string {
  const escaped = names.map((name) => name.replaceAll('~', '~0').replaceAll('/', '~1'));
  return `#/${escaped.map((name) => encodeURIComponent(name.replaceAll(/\p{Surrogate}/gu, '\ufffd'))).join('/')}`;
}
