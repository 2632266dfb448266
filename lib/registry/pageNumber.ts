/** More pages than any list has; a number beyond it is no page and would overflow what the database counts to. */
const MOST_PAGES = 100_000;

/** The page of a list that an address asks for; the first where it asks for none that can be. */
export function pageNumber(wanted: number): number {
  return Number.isInteger(wanted) && wanted >= 1 && wanted <= MOST_PAGES ? wanted : 1;
}
