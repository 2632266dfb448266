import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import { requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { isSha256 } from '@/lib/files/blobStore';
import type { Actor } from '@/lib/run/roles';
import { appendAudit } from '@/lib/store/audit';
import { OWN_PARTS, ownFiles, ownRows } from '@/lib/store/ownData';
import type { Registry } from '../registry';

const BATCH = 200;

const README = `What this registry keeps of your account.

One JSON file a table: an array of objects, times in UTC (ISO 8601). Names end in their unit (speedMps in m/s,
energyWh in Wh, ...C in degrees Celsius). photos/ holds your photos as they are kept, recordings/ your recordings as you
sent them; photos.json and recordings.json say which is which by "id".

Left out is what guards the account: password hash, keys, the hashes of sign-ins and tokens, and the salt of the log.
`;

/**
 * All that is kept of the actor's account as a zip archive, made as it is read: no more than a stretch of rows or one
 * file is held at a time. That it was taken out is in the log.
 */
export async function ownDataZip(
  registry: Registry,
  actor: Actor | undefined,
): Promise<AsyncGenerator<Uint8Array>> {
  requireSignedIn(actor);
  const at = registry.now();
  requireFresh(actor, at);
  await registry.db.$transaction((tx) =>
    appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.export',
      subjectKind: 'account',
      subjectId: actor.accountId,
    }),
  );
  return zipOf(registry, actor.accountId);
}

async function* zipOf(registry: Registry, accountId: string): AsyncGenerator<Uint8Array> {
  const ready: Uint8Array[] = [];
  const zip = new Zip((error, chunk) => {
    if (error) throw error;
    ready.push(chunk);
  });
  const text = (words: string) => new TextEncoder().encode(words);
  const add = (name: string, isPressed = true) => {
    const file = isPressed ? new ZipDeflate(name, { level: 6 }) : new ZipPassThrough(name);
    file.mtime = registry.now();
    zip.add(file);
    return file;
  };
  add('README.txt').push(text(README), true);
  yield* ready.splice(0);
  for (const part of OWN_PARTS) {
    const file = add(`${part.name}.json`);
    for (let offset = 0; ; offset += BATCH) {
      const rows = await ownRows(registry.db, part, accountId, offset, BATCH);
      const lines = rows.map((row, index) => `${offset + index === 0 ? '\n' : ',\n'}${JSON.stringify(row)}`);
      const isLast = rows.length < BATCH;
      file.push(text(`${offset === 0 ? '[' : ''}${lines.join('')}${isLast ? '\n]\n' : ''}`), isLast);
      yield* ready.splice(0);
      if (isLast) break;
    }
  }
  for (let offset = 0; ; offset += BATCH) {
    const files = await ownFiles(registry.db, accountId, offset, BATCH);
    for (const { digest, name } of files) {
      const bytes = isSha256(digest) ? await registry.blobs.get(digest).catch(() => null) : null;
      // Swept away, or damaged: the list of photos says that it was there.
      if (bytes === null) continue;
      add(name, false).push(bytes, true);
      yield* ready.splice(0);
    }
    if (files.length < BATCH) break;
  }
  zip.end();
  yield* ready.splice(0);
}
