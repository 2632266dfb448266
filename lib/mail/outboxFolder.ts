import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rename, unlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { HeldLetter, HoldingOutbox, Letter } from './letter';

/** The name of the folder in the data folder. */
export const OUTBOX = 'mail';

const waitingSchema = z.object({
  to: z.string(),
  subject: z.string(),
  text: z.string(),
  unsubscribe: z.string().optional(),
  accountId: z.string().optional(),
  writtenAt: z.iso.datetime(),
  tries: z.number().int(),
  nextAt: z.iso.datetime(),
  problem: z.string().nullable(),
});

/** A letter that waits, with how often sending it failed and why. */
export interface WaitingLetter extends Letter {
  /** Its file's name. */
  name: string;
  writtenAt: Date;
  tries: number;
  nextAt: Date;
  problem: string | undefined;
}

/** Ours; what else lies in the folder is left alone. */
const NAME = /^\d{17}-[0-9a-f]{16}\.json$/;
/** Not sent yet, however long it lies: the time in milliseconds, in digits, and the notice. */
const HELD = /^(\d{17})-([0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12})\.held$/;
/** Read at a time: the oldest first. */
const MOST = 200;

/**
 * Letters as files of the data folder, one each, for their owner alone (0600): they hold addresses and secrets that work
 * once. A file appears whole (rename is atomic: POSIX.1-2017) and goes when its letter was sent.
 */
export function outboxIn(dataFolder: string): HoldingOutbox & {
  waiting(): Promise<{ letters: WaitingLetter[]; total: number }>;
  remove(name: string): Promise<void>;
  defer(letter: WaitingLetter, nextAt: Date, problem: string): Promise<void>;
} {
  const folder = join(dataFolder, OUTBOX);

  async function write(name: string, content: z.infer<typeof waitingSchema>): Promise<void> {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    const aside = join(folder, `${name}.${randomBytes(4).toString('hex')}.part`);
    await writeFile(aside, `${JSON.stringify(content, undefined, 2)}\n`, { mode: 0o600, flush: true });
    await rename(aside, join(folder, name));
  }

  async function read(name: string): Promise<WaitingLetter | undefined> {
    try {
      const { problem, ...content } = waitingSchema.parse(
        JSON.parse(await readFile(join(folder, name), 'utf8')),
      );
      return {
        ...content,
        name,
        writtenAt: new Date(content.writtenAt),
        nextAt: new Date(content.nextAt),
        problem: problem ?? undefined,
      };
    } catch {
      // Sent by another process a moment ago, or not ours.
      return undefined;
    }
  }

  return {
    put(letter, at) {
      return write(`${digitsOf(at)}-${randomBytes(8).toString('hex')}.json`, fresh(letter, at));
    },

    hold(letter, of) {
      return write(heldName(of), fresh(letter, of.at));
    },

    async held() {
      const names = (await readdir(folder).catch(noneWhenAbsent)).sort();
      return names.flatMap(heldOf).slice(0, MOST);
    },

    async handOver(of) {
      const name = `${digitsOf(of.at)}-${of.noticeId.replaceAll('-', '').slice(-16)}.json`;
      // Once: where another process did it, there is nothing left to rename.
      await rename(join(folder, heldName(of)), join(folder, name)).catch(noneWhenAbsent);
    },

    async drop(of) {
      await unlink(join(folder, heldName(of))).catch(noneWhenAbsent);
    },

    async waiting() {
      const names = (await readdir(folder).catch(noneWhenAbsent)).filter((name) => NAME.test(name)).sort();
      const letters = await Promise.all(names.slice(0, MOST).map(read));
      return { letters: letters.filter((letter) => letter !== undefined), total: names.length };
    },

    async remove(name) {
      if (NAME.test(name)) await unlink(join(folder, name)).catch(noneWhenAbsent);
    },

    defer({ name, writtenAt, tries, to, subject, text, unsubscribe, accountId }, nextAt, problem) {
      return write(name, {
        to,
        subject,
        text,
        ...(unsubscribe === undefined ? {} : { unsubscribe }),
        ...(accountId === undefined ? {} : { accountId }),
        writtenAt: writtenAt.toISOString(),
        tries: tries + 1,
        nextAt: nextAt.toISOString(),
        problem: problem.slice(0, 300),
      });
    },
  };
}

function fresh(letter: Letter, at: Date): z.infer<typeof waitingSchema> {
  const writtenAt = at.toISOString();
  return { ...letter, writtenAt, tries: 0, nextAt: writtenAt, problem: null };
}

function digitsOf(at: Date): string {
  return at.toISOString().replace(/\D/g, '');
}

function heldName({ at, noticeId }: HeldLetter): string {
  return `${digitsOf(at)}-${noticeId}.held`;
}

function heldOf(name: string): HeldLetter[] {
  const [, digits = '', noticeId = ''] = HELD.exec(name) ?? [];
  const [date, time, ms] = [digits.slice(0, 8), digits.slice(8, 14), digits.slice(14)];
  const iso = `${date.replace(/(....)(..)(..)/, '$1-$2-$3')}T${time.replace(/(..)(..)(..)/, '$1:$2:$3')}.${ms}Z`;
  return digits === '' || !z.iso.datetime().safeParse(iso).success ? [] : [{ at: new Date(iso), noticeId }];
}

export type OutboxFolder = ReturnType<typeof outboxIn>;

function noneWhenAbsent(error: NodeJS.ErrnoException): string[] {
  if (error.code === 'ENOENT') return [];
  throw error;
}
