/** The whole address of a path, for citing; the path alone where the installation was not told its own. */
export function publicAddress(path: string): string {
  const own = process.env.NEXTAUTH_URL;
  return own ? new URL(path, own).href : path;
}
