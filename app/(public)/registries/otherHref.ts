import type { Metadata } from 'next';
import { isWorldKey, RECORD, WORLDS, type WorldKey } from '@/lib/run/world';

const PREFIX = 'import:';

/** The pages of another registry here, or one below them. */
export function otherHref(world: WorldKey, ...below: readonly (string | number)[]): string {
  return ['/registries', world.slice(PREFIX.length), ...below].join('/');
}

/** The world that an address names; the record, of which no other registry has one, where it names none. */
export function otherWorld(key: string): WorldKey {
  const world = `${PREFIX}${key}`;
  return isWorldKey(world) ? world : RECORD;
}

/** A world that somebody asks for, where it is another registry's. */
export function askedOther(world: string | undefined): WorldKey | undefined {
  return world !== undefined && isWorldKey(world) && !WORLDS.includes(world) ? world : undefined;
}

/** What is shown of others is to be found at their own address, and not twice. */
export const NOT_INDEXED: Metadata = { robots: { index: false, follow: false } };
