import { InvalidInput } from '@/lib/run/errors';
import { likenessKeys } from '@/lib/run/names/skeleton';
import type { Queryable } from '@/lib/store/database';
import { hasNameKeys, insertNameKeys, lockNames, type Named, nameAlike } from '@/lib/store/nameKeys';

/**
 * In the transaction that makes a thing with a public name: refuses one that looks like another's and keeps what it
 * looks like itself. Things of the very same name are told apart by what stands beside it (year, region); people are
 * not, so theirs have to differ.
 */
export async function claimName(tx: Queryable, named: Named, path: string): Promise<void> {
  await lockNames(tx, named.kind);
  if (await hasNameKeys(tx, named.thingId)) return;
  const keys = keysOf(named.name);
  const alike = await nameAlike(tx, named, keys, named.kind !== 'person');
  if (alike !== null) throw looksLike(path, alike.name);
  await insertNameKeys(tx, named, keys);
}

/** The same without refusing: for names that are there, or that somebody answers for who may know it. */
export async function keepName(tx: Queryable, named: Named): Promise<void> {
  await insertNameKeys(tx, named, keysOf(named.name));
}

/** A name of signs alone has nothing to be told by: it still gets a key, its own. */
function keysOf(name: string): string[] {
  const keys = likenessKeys(name).filter((key) => key !== '');
  return keys.length > 0 ? keys : [`= ${name}`.slice(0, 400)];
}

function looksLike(path: string, name: string): InvalidInput {
  return new InvalidInput([
    {
      path,
      what: `This looks like “${name}”, which is there already.`,
      why: 'Readers could not tell the two apart.',
      fix: 'Add a word that tells them apart, or use the one that is there.',
    },
  ]);
}
