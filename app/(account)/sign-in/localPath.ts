/** Where to go afterwards: only ever a path of this site, so that a crafted link cannot lead elsewhere. */
export function localPath(callbackUrl: string | undefined, fallback = '/my'): string {
  if (callbackUrl === undefined) return fallback;
  try {
    const base = 'http://local.invalid';
    const url = new URL(callbackUrl, base);
    // Two slashes at the start name another host, also where dot segments before them fell away ("/.//host").
    if (url.origin !== base || callbackUrl.startsWith('//') || url.pathname.startsWith('//')) return fallback;
    return `${url.pathname}${url.search}${url.hash}`;
  } catch {
    return fallback;
  }
}
