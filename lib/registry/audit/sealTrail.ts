import { createPublicKey, type KeyObject } from 'node:crypto';
import { headsIn, type SealHeads } from '@/lib/files/sealHeads';
import {
  type Cut,
  cutNow,
  databaseNow,
  entriesToSeal,
  insertSeal,
  isComplete,
  latestHead,
  mayAloneSeal,
  sealByNumber,
} from '@/lib/store/auditSeals';
import type { Database, Queryable } from '@/lib/store/database';
import { sealKey } from '@/lib/store/server/keptSecret';
import { countMarks, isGenuine, marksOf, NO_HASH, type Seal, signedSeal } from '@/lib/trail/seal';
import type { Registry } from '../registry';
import { closeRepeats } from './recordAct';

/** Entries of one seal, 40 bytes of marks each. The first takes all that was there before, however much. */
const MOST_ENTRIES = 10_000;
const EVERY_MS = 1000;
/** Sealing an old registry at once may take a while: about ten seconds a million entries. */
const LONGEST_MS = 10 * 60 * 1000;

/** The trail is not what this sealer left behind: it seals no further, and `npm run audit:verify` says what happened. */
class TrailBroken extends Error {
  override readonly name = 'TrailBroken';
}

export interface TrailSealer {
  /** Seals what is complete by now; returns how many entries. */
  round(): Promise<number>;
}

/** Seals the log in batches, each signed, chained to the one before and kept outside the database as well. */
export function trailSealer(registry: Pick<Registry, 'db' | 'now'>, dataFolder: string): TrailSealer {
  const { db } = registry;
  const heads = headsIn(dataFolder);
  let key: KeyObject | undefined;
  let exported: Seal | undefined | 'unknown' = 'unknown';
  let cut: Cut | undefined;
  let sealedTo = -1n;

  async function round(): Promise<number> {
    await closeRepeats(registry);
    key ??= await sealKey(dataFolder);
    if (exported === 'unknown') exported = await heads.last();
    exported = await exportMissing(db, heads, key, exported);
    cut ??= await cutNow(db, sealedTo);
    if (cut === undefined || !(await isComplete(db, cut))) return 0;
    let sealed = 0;
    for (;;) {
      const seal = await sealNext(db, key, cut.id, exported);
      if (seal === 'busy') return sealed;
      if (seal === undefined) break;
      await heads.append(seal);
      exported = seal;
      sealed += countMarks(seal.marks);
    }
    sealedTo = cut.id;
    cut = undefined;
    return sealed;
  }

  return { round };
}

/** The next seal up to an id; undefined where nothing is left, 'busy' while another process seals. */
function sealNext(
  db: Database,
  key: KeyObject,
  upTo: bigint,
  exported: Seal | undefined,
): Promise<Seal | undefined | 'busy'> {
  return db.$transaction(
    async (tx) => {
      if (!(await mayAloneSeal(tx))) return 'busy';
      const last = await latestHead(tx);
      // Another process may have sealed since this one looked; it exports what it made.
      if ((last?.number ?? -1) > (exported?.number ?? -1)) return 'busy';
      if (last?.hash !== exported?.hash) throw trailBroken(exported, last);
      const past = last?.toId ?? 0n;
      const batches: Buffer[] = [];
      let toId = upTo;
      for (let from = past; ; ) {
        const entries = await entriesToSeal(tx, from, upTo, MOST_ENTRIES);
        batches.push(marksOf(entries));
        const latest = entries.at(-1);
        if (latest === undefined || entries.length < MOST_ENTRIES) break;
        from = latest.id;
        if (last === null) continue;
        toId = latest.id;
        break;
      }
      const marks = Buffer.concat(batches);
      // The first seal is made in an empty log, too: what comes after it was written under seal.
      if (marks.byteLength === 0 && last !== null) return undefined;
      const seal = signedSeal(
        {
          number: (last?.number ?? -1) + 1,
          // Whatever number an entry of before may have been given, the first seal covers it.
          fromId: last === null ? 0n : past + 1n,
          toId,
          sealedAt: await databaseNow(tx),
          previousHash: last?.hash ?? NO_HASH,
          marks,
        },
        key,
      );
      await insertSeal(tx, seal, countMarks(marks));
      return seal;
    },
    { timeout: LONGEST_MS },
  );
}

/** Brings the file up to the database after a crash between the two; only what this registry's key signed goes there. */
async function exportMissing(
  db: Queryable,
  heads: SealHeads,
  key: KeyObject,
  exported: Seal | undefined,
): Promise<Seal | undefined> {
  const last = await latestHead(db);
  if ((last?.number ?? -1) < (exported?.number ?? -1)) throw trailBroken(exported, last);
  if (last === null || last.number === exported?.number) return exported;
  // Perhaps another process of this registry has done it by now.
  let head = await heads.last();
  for (let number = (head?.number ?? -1) + 1; number <= last.number; number += 1) {
    const seal = await sealByNumber(db, number);
    const isNext = seal !== null && seal.previousHash === (head?.hash ?? NO_HASH);
    if (!isNext || !isGenuine(seal, [createPublicKey(key)])) throw trailBroken(head, seal);
    await heads.append(seal);
    head = seal;
  }
  return head;
}

function trailBroken(exported: Seal | undefined, found: { number: number } | null): TrailBroken {
  const [known, has] = [exported?.number ?? 'none', found?.number ?? 'none'];
  return new TrailBroken(
    `The audit log is not sealed further: the file of heads ends with seal ${known}, and the database does not follow ` +
      `from it (its seal: ${has}). "npm run audit:verify" names the first entry that was changed.`,
  );
}

/** Seals about each second until stopped; what fails is reported, and tried again. */
export function startSealing(
  registry: Pick<Registry, 'db' | 'now'>,
  dataFolder: string,
  report: (error: unknown) => void,
): { stop(): Promise<void> } {
  const sealer = trailSealer(registry, dataFolder);
  let isStopped = false;
  let timer: NodeJS.Timeout | undefined;
  const look = async () => {
    try {
      await sealer.round();
    } catch (error) {
      report(error);
    }
    if (isStopped) return;
    timer = setTimeout(() => {
      current = look();
    }, EVERY_MS);
  };
  let current = look();
  return {
    async stop() {
      isStopped = true;
      clearTimeout(timer);
      await current;
    },
  };
}
