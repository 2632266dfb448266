/** The site's own address with a path and a secret; never made from what a request says of its host. */
export function withSecret(site: string, path: string, secret: string): string {
  const url = new URL(path, site);
  url.searchParams.set('token', secret);
  return url.href;
}
