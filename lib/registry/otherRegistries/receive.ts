import { createHash, createPublicKey } from 'node:crypto';
import { createWriteStream } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import type { Sha256 } from '@/lib/files/blobStore';
import { INCOMING_SNAPSHOTS, type SnapshotFolder, snapshotFolder } from '@/lib/files/snapshotFolder';
import { openZip } from '@/lib/files/zipReader';
import { DESCRIPTOR, SIGNATURE } from '@/lib/openData/dataPackage';
import { originOf } from '@/lib/openData/other/origin';
import { isBomb, type Trust, trustIn } from '@/lib/openData/other/trust';
import { checkSignature } from '@/lib/openData/signature';
import { type ReadDescriptor, readDescriptor } from '@/lib/openData/verify/about';
import { Conflict, InvalidInput, TooLarge } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD, WORLDS } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob, latestJob } from '@/lib/store/jobs';
import {
  countOtherRegistries,
  findOrInsertOther,
  insertOtherSnapshot,
  MOST_REGISTRIES,
  moveOtherSnapshot,
  otherRegistries,
  otherRegistry,
  otherSnapshotIn,
  type StoredOtherSnapshot,
} from '@/lib/store/otherRegistries';
import { dataFolderFromEnvironment } from '@/lib/store/server/dataFolder';
import { sealKey } from '@/lib/store/server/keptSecret';
import { keyIdOf } from '@/lib/trail/seal';
import { wholeMember } from '../openData/zipMembers';
import type { Registry } from '../registry';

/** Verifies a snapshot of another registry and shows it; its key is the snapshot's id. */
export const CHECK_OTHER_JOB = 'checkOther';

/** What a page takes; what is larger comes by a command. */
export const MOST_POSTED_BYTES = 15 * 1024 * 1024;
const MOST_BYTES = 8 * 1024 ** 3;

export const incomingFolder = (dataFolder: string): SnapshotFolder =>
  snapshotFolder(dataFolder, INCOMING_SNAPSHOTS);

const inputSchema = z.object({
  origin: z.string().max(300),
});

export interface Received {
  snapshotId: string;
  name: string;
  keyId: string;
  trust: Extract<Trust, 'accepted' | 'first' | 'changed'>;
}

/** A steward’s upload: kept aside until its key is accepted and every number of it is verified. */
export async function uploadOther(
  registry: Registry,
  actor: Actor | undefined,
  input: { origin: unknown; bytes: AsyncIterable<Uint8Array> },
  dataFolder = dataFolderFromEnvironment(),
): Promise<Received> {
  authorise(actor, 'keepOtherRegistries', undefined, RECORD);
  return receiveOther(registry, actor.accountId, input, { dataFolder, mostBytes: MOST_POSTED_BYTES });
}

/** The same for whoever runs the server. */
export async function receiveOther(
  registry: Registry,
  actorId: string | undefined,
  { origin: typed, bytes }: { origin: unknown; bytes: AsyncIterable<Uint8Array> },
  { dataFolder = dataFolderFromEnvironment(), mostBytes = MOST_BYTES } = {},
): Promise<Received> {
  const of = originOf(parseInput(inputSchema, { origin: typed }).origin);
  if (of === undefined) throw noOrigin();
  const known = await otherRegistry(registry.db, of.world);
  if (known !== null && known.origin !== of.origin)
    throw issue(
      'origin',
      `${known.origin} is called ${of.world} here already.`,
      'A registry’s numbers are kept apart by a name made from its address.',
      'Use the address that was given before.',
    );
  if (known === null && (await countOtherRegistries(registry.db)) >= MOST_REGISTRIES)
    throw new Conflict(`${MOST_REGISTRIES} other registries are here already.`);
  const folder = incomingFolder(dataFolder);
  const file = await folder.newFile();
  try {
    const { sizeBytes, sha256 } = await written(file, bytes, mostBytes);
    const { descriptor, keyId, publicKey } = await frontOf(file, sizeBytes);
    const trust = await trustOf(registry, of.world, keyId, dataFolder);
    await refuseOlder(registry, of.world, descriptor);
    await folder.keep(file, sha256);
    const { about, name, files } = descriptor;
    const snapshotId = await registry.db.$transaction(async (tx) => {
      const at = registry.now();
      await findOrInsertOther(tx, of);
      const open = await openIn(tx, of.world);
      if (open !== undefined)
        await moveOtherSnapshot(tx, open.id, open.state, {
          state: 'refused',
          says: 'Another snapshot came in its place.',
          endedAt: at,
        });
      const id = await insertOtherSnapshot(tx, {
        world: of.world,
        name,
        sha256,
        theirWorld: about.world,
        asOf: new Date(about.asOf),
        methodVersion: about.methodVersion,
        licence: about.licence.value,
        keyId,
        publicKey,
        rows: Object.fromEntries([...files].map(([table, { rows }]) => [table, rows])),
        receivedAt: at,
        state: trust === 'accepted' ? 'checking' : 'keyAsked',
      });
      if (trust === 'accepted') await enqueueJob(tx, CHECK_OTHER_JOB, id, at);
      await appendAudit(tx, {
        at,
        actorId,
        action: 'otherRegistry.receive',
        subjectKind: 'otherRegistry',
        subjectId: of.world,
        details: { origin: of.origin, snapshot: name, sha256, keyId, trust },
      });
      return id;
    });
    return { snapshotId, name, keyId, trust };
  } finally {
    await folder.forget(file);
  }
}

/** The one of a registry that is looked at; throws while the background is at it. */
export async function openIn(tx: Queryable, world: string): Promise<StoredOtherSnapshot | undefined> {
  const open = await otherSnapshotIn(tx, world, ['keyAsked', 'checking']);
  if (open?.state === 'checking' && (await latestJob(tx, CHECK_OTHER_JOB, open.id))?.state !== 'failed')
    throw new Conflict(`${open.name} is being checked. Wait until it is done.`);
  return open;
}

/** As it comes, in the memory of a chunk, and no farther than it may be. */
async function written(file: string, bytes: AsyncIterable<Uint8Array>, mostBytes: number) {
  const hash = createHash('sha256');
  let sizeBytes = 0;
  await mkdir(dirname(file), { recursive: true });
  await pipeline(
    bytes,
    async function* (chunks: AsyncIterable<Uint8Array>) {
      for await (const chunk of chunks) {
        sizeBytes += chunk.byteLength;
        if (sizeBytes > mostBytes)
          throw new TooLarge(
            `The file is larger than ${Math.floor(mostBytes / 1024 / 1024)} MB. Whoever runs the server can bring it by npm run snapshot:import.`,
          );
        hash.update(chunk);
        yield chunk;
      }
    },
    createWriteStream(file, { flags: 'wx', mode: 0o600 }),
  );
  if (sizeBytes === 0)
    throw issue(
      'file',
      'No file was chosen, or it is empty.',
      'The numbers are read from it.',
      'Choose a snapshot.',
    );
  return { sizeBytes, sha256: hash.digest('hex') as Sha256 };
}

interface Front {
  descriptor: ReadDescriptor;
  keyId: string;
  /** PEM. */
  publicKey: string;
}

/** What a file says it is, and who signed that: read before anything large in it is. */
async function frontOf(file: string, sizeBytes: number): Promise<Front> {
  const no = (what: string) =>
    issue(
      'file',
      `This is no snapshot of a registry: ${what}.`,
      'Only what is whole and signed is taken.',
      'Fetch it again from the registry’s page of data.',
    );
  const zip = await openZip(file).catch(() => {
    throw no('it is no zip archive');
  });
  try {
    if (isBomb(sizeBytes, zip.members.values())) throw no('it would unpack to far more than a snapshot does');
    const [descriptorBytes, signature] = [
      await wholeMember(zip, DESCRIPTOR),
      await wholeMember(zip, SIGNATURE),
    ];
    if (descriptorBytes === undefined || signature === undefined)
      throw no(`${DESCRIPTOR} or ${SIGNATURE} is not in it`);
    const signed = checkSignature(signature.toString('utf8'), descriptorBytes, []);
    if (!signed.ok) throw no(signed.reason);
    const descriptor = readDescriptor(descriptorBytes.toString('utf8'));
    if (typeof descriptor === 'string') throw no(descriptor);
    if (!WORLDS.includes(descriptor.about.world))
      throw no('it is of a third registry, whose own snapshot it takes');
    return {
      descriptor,
      keyId: signed.keyId,
      publicKey: signed.publicKey.export({ type: 'spki', format: 'pem' }).toString(),
    };
  } finally {
    zip.close();
  }
}

async function trustOf(
  registry: Registry,
  world: string,
  keyId: string,
  dataFolder: string,
): Promise<Received['trust']> {
  const all = await otherRegistries(registry.db);
  const trust = trustIn(keyId, {
    accepted: all.find((one) => one.world === world)?.keyId ?? null,
    own: keyIdOf(createPublicKey(await sealKey(dataFolder))),
    others: all.flatMap((one) => (one.world === world || one.keyId === null ? [] : [one.keyId])),
  });
  if (trust === 'own')
    throw issue(
      'file',
      'This snapshot is signed by this registry’s own key.',
      'Its numbers would stand beside themselves and look like somebody else’s.',
      'Choose a snapshot of another registry.',
    );
  if (trust === 'anothers')
    throw issue(
      'file',
      `The key ${keyId} is accepted for another registry.`,
      'One registry under two addresses would be read as two that agree.',
      'Give the address that the key was accepted for.',
    );
  return trust;
}

/** What is shown goes forward alone, and stays of one world: their invented runs never take the place of driven ones. */
async function refuseOlder(registry: Registry, world: string, { about }: ReadDescriptor): Promise<void> {
  const shown = await otherSnapshotIn(registry.db, world, ['shown']);
  if (shown === undefined) return;
  if (shown.theirWorld !== about.world)
    throw issue(
      'file',
      `This is a snapshot of another set of their runs (${about.world}) than the one shown (${shown.theirWorld}).`,
      'One replaces the other, and they are not of the same runs.',
      'Remove the one that is shown first, if this one is meant.',
    );
  if (new Date(about.asOf) <= shown.asOf)
    throw issue(
      'file',
      `It is of ${about.asOf.slice(0, 10)}, and the one shown is as new or newer.`,
      'Only a newer snapshot replaces one.',
      'Fetch their newest one.',
    );
}

function noOrigin(): InvalidInput {
  return issue(
    'origin',
    'That is no address of a registry.',
    'It names whose numbers these are, and nothing beside the host belongs to it.',
    'Write it as https://loops.example.',
  );
}

function issue(path: string, what: string, why: string, fix: string): InvalidInput {
  return new InvalidInput([{ path, what, why, fix }]);
}
