import { isWorldKey, type WorldKey } from '@/lib/run/world';

/** Another registry: where it is published, and the world that its numbers have here. */
export interface Origin {
  /** "https://loops.example" */
  origin: string;
  world: WorldKey;
}

const LONGEST = 200;

/** Of an address as somebody types it; undefined where it names no registry. A path, a name or a password is no origin. */
export function originOf(text: string): Origin | undefined {
  if (text.length > LONGEST) return undefined;
  let url: URL;
  try {
    url = new URL(text.trim());
  } catch {
    return undefined;
  }
  const { protocol, pathname, search, hash, username, password, origin, host } = url;
  if (protocol !== 'https:' && protocol !== 'http:') return undefined;
  if (pathname !== '/' || search + hash + username + password !== '') return undefined;
  const key = host
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-|-$/g, '');
  const world = `import:${key}`;
  return isWorldKey(world) ? { origin, world } : undefined;
}
