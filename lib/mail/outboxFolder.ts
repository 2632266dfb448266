import { randomBytes } from 'node:crypto';
import { mkdir, readdir, readFile, rename, unlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';
import type { Letter, Outbox } from './letter';

/** The name of the folder in the data folder. */
export const OUTBOX = 'mail';

const waitingSchema = z.object({
  to: z.string(),
  subject: z.string(),
  text: z.string(),
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
/** Read at a time: the oldest first. */
const MOST = 200;

/**
 * Letters as files of the data folder, one each, for their owner alone (0600): they hold addresses and secrets that work
 * once. A file appears whole (rename is atomic: POSIX.1-2017) and goes when its letter was sent.
 */
export function outboxIn(dataFolder: string): Outbox & {
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
      const name = `${at.toISOString().replace(/\D/g, '')}-${randomBytes(8).toString('hex')}.json`;
      const writtenAt = at.toISOString();
      return write(name, { ...letter, writtenAt, tries: 0, nextAt: writtenAt, problem: null });
    },

    async waiting() {
      const names = (await readdir(folder).catch(noneWhenAbsent)).filter((name) => NAME.test(name)).sort();
      const letters = await Promise.all(names.slice(0, MOST).map(read));
      return { letters: letters.filter((letter) => letter !== undefined), total: names.length };
    },

    async remove(name) {
      if (NAME.test(name)) await unlink(join(folder, name)).catch(noneWhenAbsent);
    },

    defer({ name, writtenAt, tries, to, subject, text }, nextAt, problem) {
      return write(name, {
        to,
        subject,
        text,
        writtenAt: writtenAt.toISOString(),
        tries: tries + 1,
        nextAt: nextAt.toISOString(),
        problem: problem.slice(0, 300),
      });
    },
  };
}

export type OutboxFolder = ReturnType<typeof outboxIn>;

function noneWhenAbsent(error: NodeJS.ErrnoException): string[] {
  if (error.code === 'ENOENT') return [];
  throw error;
}
