import type { KeyObject } from 'node:crypto';
import pg from 'pg';
import type { SealHeads } from '@/lib/files/sealHeads';
import { keptEntries, keptSeals } from '@/lib/store/trailRows';
import { type EntryFault, faultInSeal, type KeptEntry } from '@/lib/trail/fault';
import { countMarks, isGenuine, NO_HASH, type Seal } from '@/lib/trail/seal';

export interface TrailFinding {
  kind: EntryFault['kind'] | 'seal';
  entryId?: bigint;
  says: string;
}

export interface TrailReport {
  seals: number;
  sealedEntries: number;
  /** Written since the last seal: nothing is known of these yet. */
  unsealed: number;
  /** The last head in the file; undefined where the file holds none. */
  head: { number: number; hash: string; sealedAt: Date } | undefined;
  /** The first that is wrong, in the order of the log. */
  finding: TrailFinding | undefined;
}

/**
 * Holds the log in the database against the heads outside it, in one reading of the database as it was at one moment, by
 * cursors. What the file says goes before what the database says: its owner can rewrite entries, marks and seals, but
 * neither the file nor a signature. Nothing is written.
 */
export async function verifyTrail(
  connection: pg.ClientConfig,
  heads: SealHeads,
  trusted: readonly KeyObject[],
): Promise<TrailReport> {
  // Before the database: a seal is in the file only once it is there.
  const bytes = await heads.bytes();
  const client = new pg.Client({ ...connection, application_name: 'evenloop audit:verify' });
  await client.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    return await compare(new Peeked(keptEntries(client)), new Peeked(keptSeals(client)), {
      heads: new Peeked(heads.read(bytes)),
      trusted,
    });
  } finally {
    await client.end();
  }
}

async function compare(
  entries: Peeked<KeptEntry>,
  stored: Peeked<Seal>,
  { heads, trusted }: { heads: Peeked<Seal | undefined>; trusted: readonly KeyObject[] },
): Promise<TrailReport> {
  const report: TrailReport = {
    seals: 0,
    sealedEntries: 0,
    unsealed: 0,
    head: undefined,
    finding: undefined,
  };
  const found = (finding: TrailFinding): TrailReport => ({ ...report, finding });
  const wrongSeal = (says: string) => found({ kind: 'seal', says });
  let before: Seal | undefined;
  for (let number = 0; ; number += 1) {
    const head = await nextHead(heads, before);
    const inDatabase = await sealOf(stored, number);
    const seal = head === undefined ? inDatabase : head;
    if (head === 'unreadable')
      return wrongSeal(`the line after seal ${number - 1} in the file of heads is no seal`);
    if (seal === undefined || seal === 'unreadable') break;
    if (!follows(seal, before) || !isGenuine(seal, trusted)) {
      const where = head === undefined ? 'in the database' : 'in the file of heads';
      return wrongSeal(
        `seal ${number} ${where} (entries ${seal.fromId} to ${seal.toId}) is not what this registry's key signed`,
      );
    }
    const fault = await faultInSeal(seal, upTo(entries, seal.toId), before?.sealedAt);
    if (fault)
      return found({ ...fault, says: `${fault.says} (seal ${number}, ${seal.sealedAt.toISOString()})` });
    // The entries are all right; what the database says of them is not.
    if (inDatabase === undefined) return wrongSeal(`seal ${number} was removed from the database`);
    if (inDatabase.hash !== seal.hash || !isGenuine(inDatabase, trusted))
      return wrongSeal(`seal ${number} was altered in the database`);
    report.seals += 1;
    report.sealedEntries += countMarks(seal.marks);
    if (head !== undefined) report.head = { number, hash: seal.hash, sealedAt: seal.sealedAt };
    before = seal;
  }
  if ((await stored.peek()) !== undefined)
    return wrongSeal(`seal ${before === undefined ? 0 : before.number + 1} was removed from the database`);
  if (before !== undefined && report.head === undefined)
    return wrongSeal(
      'the file of heads is missing, so that seals could be held against nothing outside the database',
    );
  while ((await entries.take()) !== undefined) report.unsealed += 1;
  return report;
}

/** The next line of the file; one that repeats the last, which two processes may both have written, counts once. */
async function nextHead(
  heads: Peeked<Seal | undefined>,
  before: Seal | undefined,
): Promise<Seal | 'unreadable' | undefined> {
  while (!(await heads.isAtEnd())) {
    const seal = await heads.take();
    if (seal === undefined) return 'unreadable';
    if (seal.hash !== before?.hash) return seal;
  }
  return undefined;
}

async function sealOf(stored: Peeked<Seal>, number: number): Promise<Seal | undefined> {
  return (await stored.peek())?.number === number ? stored.take() : undefined;
}

function follows(seal: Seal, before: Seal | undefined): boolean {
  if (before === undefined) return seal.number === 0 && seal.previousHash === NO_HASH;
  return (
    seal.number === before.number + 1 && seal.previousHash === before.hash && seal.fromId === before.toId + 1n
  );
}

async function* upTo(entries: Peeked<KeptEntry>, id: bigint): AsyncGenerator<KeptEntry> {
  for (;;) {
    const next = await entries.peek();
    if (next === undefined || next.id > id) return;
    await entries.take();
    yield next;
  }
}

/** A stream of which the next can be looked at before it is taken. */
class Peeked<T> {
  readonly #source: AsyncIterator<T>;
  #next: Promise<IteratorResult<T>> | undefined;

  constructor(source: AsyncIterator<T>) {
    this.#source = source;
  }

  #look(): Promise<IteratorResult<T>> {
    this.#next ??= this.#source.next();
    return this.#next;
  }

  async isAtEnd(): Promise<boolean> {
    return (await this.#look()).done === true;
  }

  async peek(): Promise<T | undefined> {
    const next = await this.#look();
    return next.done ? undefined : next.value;
  }

  async take(): Promise<T | undefined> {
    const next = await this.#look();
    if (next.done) return undefined;
    this.#next = undefined;
    return next.value;
  }
}
