/**
 * Whose word is taken. A signature says that a file is from whoever holds a key; that the key is the registry's is for a
 * steward to find out, once a key.
 */
export type Trust =
  /** The key is the one that was accepted for the origin. */
  | 'accepted'
  /** None was accepted yet. */
  | 'first'
  /** Another one was accepted: refused until a steward accepts this one anew. */
  | 'changed'
  /** It is this registry's own: its numbers would stand beside themselves. */
  | 'own'
  /** It is accepted for another origin: one registry under two names would be counted as two. */
  | 'anothers';

export function trustIn(
  keyId: string,
  known: { accepted: string | null; own: string; others: readonly string[] },
): Trust {
  if (keyId === known.own) return 'own';
  if (known.others.includes(keyId)) return 'anothers';
  if (known.accepted === null) return 'first';
  return keyId === known.accepted ? 'accepted' : 'changed';
}

/** Numbers press to a tenth or so: what unpacks to so many times its size is made to fill a disk. */
const MOST_TIMES = 40;
/** However small the file is. */
const ALWAYS = 16 * 1024 * 1024;

/** Whether an archive says that it unpacks to more than a snapshot of its size would. */
export function isBomb(fileBytes: number, members: Iterable<{ bytes: number }>): boolean {
  let unpacked = 0;
  for (const { bytes } of members) unpacked += bytes;
  return unpacked > Math.max(ALWAYS, MOST_TIMES * fileBytes);
}
