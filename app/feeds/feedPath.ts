/** The feed of a page; that of the home page tells of everything. */
export function feedPath(page: string): string {
  return page === '/' ? '/feeds/all.atom' : `/feeds${page}.atom`;
}
