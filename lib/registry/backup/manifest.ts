import { z } from 'zod';
import { type Member, type MemberSum, readArchive, sumOf } from '@/lib/files/archive';

/** First in a backup: what it is of, so that nothing is written where it does not fit. */
export const aboutSchema = z.object({
  format: z.literal('evenloop backup 1'),
  madeAt: z.iso.datetime(),
  migrations: z.array(z.object({ name: z.string(), checksum: z.string() })),
  tables: z.array(z.object({ name: z.string(), columns: z.array(z.string()) })),
});
export type About = z.infer<typeof aboutSchema>;

/** Last in a backup: what has to have been in it. */
const manifestSchema = z.object({
  tables: z.array(z.object({ name: z.string(), rows: z.int() })),
  sequences: z.array(z.object({ name: z.string(), lastValue: z.string(), isCalled: z.boolean() })),
  blobs: z.int(),
  /** Named by a row, but not to be had when the backup was made. */
  missingBlobs: z.array(z.string()),
  /** Published snapshots, and those of them that were not to be had; a backup of before holds none. */
  snapshots: z.int().default(0),
  missingSnapshots: z.array(z.string()).default([]),
  members: z.array(z.object({ name: z.string(), bytes: z.int(), sha256: z.string() })),
});
export type Manifest = z.infer<typeof manifestSchema>;

export const ABOUT = 'about.json';
export const MANIFEST = 'manifest.json';

/** The file is no backup, or not the one that was written. */
export class BadBackup extends Error {
  override readonly name = 'BadBackup';
}

export function jsonMember(name: string, value: object): Member {
  return { name, bytes: Buffer.from(JSON.stringify(value)) };
}

/** Reads a backup from end to end and holds every member against the manifest; throws `BadBackup` at what differs. */
export async function checkBackup(file: string): Promise<{ about: About; manifest: Manifest }> {
  const sums: MemberSum[] = [];
  let about: About | undefined;
  let manifest: Manifest | undefined;
  try {
    for await (const member of readArchive(file)) {
      if (manifest !== undefined) throw new BadBackup(`${member.name} comes after the manifest`);
      if (member.name === MANIFEST)
        manifest = manifestSchema.parse(JSON.parse(member.bytes.toString('utf8')));
      else sums.push(sumOf(member));
      if (sums.length === 1 && member.name === ABOUT)
        about = aboutSchema.parse(JSON.parse(member.bytes.toString('utf8')));
    }
  } catch (error) {
    const reason = error instanceof z.ZodError ? 'it is no backup of this format' : messageOf(error);
    throw new BadBackup(`${file} cannot be used: ${reason}.`, { cause: error });
  }
  if (about === undefined || manifest === undefined)
    throw new BadBackup(`${file} cannot be used: it is no backup of this format, or it was cut off.`);
  manifest.members.forEach((expected, index) => {
    const found = sums[index];
    if (found?.name === expected.name && found.bytes === expected.bytes && found.sha256 === expected.sha256)
      return;
    throw new BadBackup(`${file} cannot be used: ${expected.name} is not what was written.`);
  });
  if (sums.length !== manifest.members.length)
    throw new BadBackup(`${file} cannot be used: it holds more than was written.`);
  return { about, manifest };
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
