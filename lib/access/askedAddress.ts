/**
 * The request header by which the web process tells a page its own path and query, whatever the sender put there: the
 * framework tells a page neither, and a sign-in on the way has to lead back to both.
 */
export const ASKED_ADDRESS_HEADER = 'x-asked-address';

const BASE = 'http://local.invalid';

/** The whole address that was asked for, where it is the page named by `backTo`; else that page. */
export function wholeAddress(backTo: string, asked: string | null): string {
  try {
    const url = new URL(asked ?? '', BASE);
    if (url.origin !== BASE || url.pathname !== new URL(backTo, BASE).pathname) return backTo;
    // The framework's own mark on a page that it fetches for a link.
    url.searchParams.delete('_rsc');
    return `${url.pathname}${url.search}`;
  } catch {
    return backTo;
  }
}
