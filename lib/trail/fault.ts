import { canonicalText, commitmentsTo, entryHash, type TrailEntry } from './entry';
import { countMarks, type Mark, markAt, type Seal } from './seal';

/** An entry as the database has it now, with what verifying its personal part and its times takes. */
export interface KeptEntry extends TrailEntry {
  personal: unknown;
  /** Of the account in `personalOf`; null once erasure has destroyed it. */
  salt: Uint8Array | null;
  isErased: boolean;
  /** The invented world is filled with a clock of its own: its times are told, not lived. */
  isOfDemo: boolean;
}

export type FaultKind = 'altered' | 'removed' | 'inserted' | 'reordered' | 'backdated';

export interface EntryFault {
  kind: FaultKind;
  entryId: bigint;
  says: string;
}

/**
 * How much earlier than the seal before an entry may say that it was written, and how far the app's clock may be from
 * the database's. Own judgement: longer than any transaction runs and than clocks differ that anybody looks after.
 */
const ALLOWED_MS = 60 * 60 * 1000;

/** To say that an entry was moved, its content is held against at most so many other marks of its seal. */
const MOST_COMPARED = 10_000;

/**
 * The first entry that is not as it was sealed; undefined where all are. `rows` are those that the database has now up
 * to the end of the seal, by id; `sealedAfter` is when the seal before was made.
 */
export async function faultInSeal(
  seal: Seal,
  rows: AsyncIterator<KeptEntry>,
  sealedAfter: Date | undefined,
): Promise<EntryFault | undefined> {
  for (let index = 0; ; index += 1) {
    const mark = markAt(seal.marks, index);
    const next = await rows.next();
    if (next.done) return mark && missing(mark, undefined, rows);
    const row = next.value;
    if (mark === undefined || row.id < mark.id) return unexpected(row, seal);
    if (row.id > mark.id) return missing(mark, row, rows);
    const fault = entryHash(row).equals(mark.hash)
      ? (misdated(row, seal, sealedAfter) ?? badlyCommitted(row))
      : changed(row, seal, sealedAfter);
    if (fault) return fault;
  }
}

async function missing(
  mark: Mark,
  row: KeptEntry | undefined,
  rest: AsyncIterator<KeptEntry>,
): Promise<EntryFault> {
  let compared = 0;
  for (let now = row; now !== undefined && compared < MOST_COMPARED; compared += 1) {
    if (wouldBe(now, mark)) return moved(now.id, mark.id);
    const next = await rest.next();
    now = next.done ? undefined : next.value;
  }
  return { kind: 'removed', entryId: mark.id, says: `entry ${mark.id} was removed` };
}

function unexpected(row: KeptEntry, seal: Seal): EntryFault {
  const mark = markOfContent(row, seal);
  if (mark !== undefined) return moved(row.id, mark.id);
  return { kind: 'inserted', entryId: row.id, says: `entry ${row.id} was put in among sealed ones` };
}

function changed(row: KeptEntry, seal: Seal, sealedAfter: Date | undefined): EntryFault {
  const mark = markOfContent(row, seal);
  if (mark !== undefined) return moved(row.id, mark.id);
  const fault = misdated(row, seal, sealedAfter);
  if (fault) return fault;
  return { kind: 'altered', entryId: row.id, says: `entry ${row.id} was altered` };
}

function moved(to: bigint, from: bigint): EntryFault {
  return {
    kind: 'reordered',
    entryId: from < to ? from : to,
    says: `entries were reordered: what was entry ${from} stands as entry ${to}`,
  };
}

function wouldBe(row: KeptEntry, { id, hash }: Mark): boolean {
  return entryHash({ ...row, id }).equals(hash);
}

function markOfContent(row: KeptEntry, { marks }: Seal): Mark | undefined {
  const most = Math.min(countMarks(marks), MOST_COMPARED);
  for (let index = 0; index < most; index += 1) {
    const mark = markAt(marks, index);
    if (mark !== undefined && mark.id !== row.id && wouldBe(row, mark)) return mark;
  }
  return undefined;
}

/** An entry that says it is older than it can be. Those from before sealing have only their own word, under one seal. */
function misdated(row: KeptEntry, seal: Seal, sealedAfter: Date | undefined): EntryFault | undefined {
  if (seal.number === 0 && row.writtenAt === null) return undefined;
  const backdated = (says: string): EntryFault => ({
    kind: 'backdated',
    entryId: row.id,
    says: `entry ${row.id} is backdated: ${says}`,
  });
  if (row.writtenAt === null) return backdated('it does not say when it was written');
  if (sealedAfter !== undefined && row.writtenAt.getTime() < sealedAfter.getTime() - ALLOWED_MS) {
    return backdated(
      `it says ${row.writtenAt.toISOString()}, but was not there when the seal before it was made, ${sealedAfter.toISOString()}`,
    );
  }
  if (!row.isOfDemo && row.at.getTime() < row.writtenAt.getTime() - ALLOWED_MS) {
    return backdated(`it says ${row.at.toISOString()} and was written ${row.writtenAt.toISOString()}`);
  }
  return undefined;
}

/** Personal details are what was committed to, or are gone together with the salt of an erased account. */
function badlyCommitted(row: KeptEntry): EntryFault | undefined {
  if (row.commitments === null) return undefined;
  const isErasure = row.personal === null && row.salt === null && row.isErased;
  if (isErasure || (isFields(row.personal) && row.salt !== null && isCommitted(row, row.personal, row.salt)))
    return undefined;
  return { kind: 'altered', entryId: row.id, says: `the personal details of entry ${row.id} were altered` };
}

function isCommitted(row: KeptEntry, personal: Record<string, unknown>, salt: Uint8Array): boolean {
  return canonicalText(commitmentsTo(personal, salt)) === canonicalText(row.commitments);
}

function isFields(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
