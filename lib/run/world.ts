import { Conflict } from './errors';

/**
 * A world is a set of runs that are ranked, pooled and counted together and with nothing else: the record, the invented
 * demo world, and the runs of one other registry each. Every table that holds something of a world carries its key.
 */
export type WorldKey = 'record' | 'demo' | `import:${string}`;

/** What a registry is for, and where things belong that say nothing else. */
export const RECORD: WorldKey = 'record';
export const DEMO: WorldKey = 'demo';
/** Those that runs are recorded in. */
export const WORLDS: readonly WorldKey[] = [RECORD, DEMO];

/** As the database's checks hold it. */
const WORLD_KEY = /^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$/;

export function isWorldKey(text: string): text is WorldKey {
  return WORLD_KEY.test(text);
}

/** A key as stored; anything else is a fault of the database, not of a reader. */
export function worldKey(stored: string): WorldKey {
  if (!isWorldKey(stored)) throw new Error(`"${stored}" is not the key of a world`);
  return stored;
}

/** In a sentence: "the record", "the demo world". */
export function worldWords(world: WorldKey): string {
  if (world === 'record') return 'the record';
  if (world === 'demo') return 'the demo world';
  return `the registry ${registryOf(world)}`;
}

/** As a heading or in a cell. */
export function worldTitle(world: WorldKey): string {
  if (world === 'record') return 'Record';
  if (world === 'demo') return 'Demo world';
  return `Registry ${registryOf(world)}`;
}

function registryOf(world: WorldKey): string {
  return world.slice('import:'.length);
}

/**
 * Where something belongs that is made of things of several worlds: with the record's things, of any one other world;
 * things of two others never meet.
 */
export function joinedWorld(worlds: readonly WorldKey[]): WorldKey {
  const [other = RECORD, ...more] = new Set(worlds.filter((world) => world !== RECORD));
  if (more.length > 0)
    throw new Conflict(`What belongs to ${worldWords(other)} is never mixed with another world’s things.`);
  return other;
}

/** The one world in which an account has a say; undefined for one of the record, whose say does not end there. */
export function onlyWorldOf(account: { world?: WorldKey }): WorldKey | undefined {
  return account.world === RECORD ? undefined : account.world;
}
