import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { enqueueJob } from '@/lib/store/jobs';
import {
  acceptKeyOf,
  forgetKeyOf,
  moveOtherSnapshot,
  otherRegistry,
  otherSnapshot,
} from '@/lib/store/otherRegistries';
import type { Registry } from '../registry';
import { CLEAR_OTHER_JOB } from './checkOther';
import { CHECK_OTHER_JOB, openIn } from './receive';

const MISSING =
  'No reason was given. | Whoever looks at it later cannot know why otherwise. | Write it in a sentence.';
const reason = z.string().trim().min(1, { error: MISSING }).max(500);

const acceptSchema = z.object({
  snapshotId: z.uuid(),
  /** As it was shown to who accepts it. */
  keyId: z.string().regex(/^[0-9a-f]{16}$/),
  reason,
});

/** Takes a key for a registry’s own from now on, in place of any before, and has the snapshot that brought it checked. */
export async function acceptKey(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'keepOtherRegistries', undefined, RECORD);
  await acceptOtherKey(registry, actor.accountId, input);
}

/** The same for whoever runs the server. */
export async function acceptOtherKey(
  registry: Registry,
  actorId: string | undefined,
  input: unknown,
): Promise<void> {
  const { snapshotId, keyId, reason: why } = parseInput(acceptSchema, input);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const snapshot = await otherSnapshot(tx, snapshotId);
    if (snapshot === undefined || snapshot.keyId !== keyId) throw moved();
    const before = await otherRegistry(tx, snapshot.world);
    const key = { keyId, publicKey: snapshot.publicKey, keyAcceptedAt: at, keyReason: why };
    const isDone =
      before !== null &&
      (await acceptKeyOf(tx, snapshot.world, before.keyId, key)) &&
      (await moveOtherSnapshot(tx, snapshotId, 'keyAsked', { state: 'checking' }));
    if (!isDone) throw moved();
    await enqueueJob(tx, CHECK_OTHER_JOB, snapshotId, at);
    await audit(
      tx,
      { at, actorId, action: 'acceptKey', world: snapshot.world },
      {
        origin: before.origin,
        keyId,
        inPlaceOf: before.keyId ?? '',
        reason: why,
      },
    );
  });
}

const actSchema = z.object({ snapshotId: z.uuid(), reason });

/** Does not take a key: the snapshot that it signed goes, whatever was accepted before stays. */
export async function refuseKey(registry: Registry, actor: Actor | undefined, input: unknown): Promise<void> {
  authorise(actor, 'keepOtherRegistries', undefined, RECORD);
  const { snapshotId, reason: why } = parseInput(actSchema, input);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const snapshot = await otherSnapshot(tx, snapshotId);
    const to = { state: 'refused' as const, says: `Its key was not accepted: ${why}`, endedAt: at };
    if (snapshot === undefined || !(await moveOtherSnapshot(tx, snapshotId, 'keyAsked', to))) throw moved();
    await enqueueJob(tx, CLEAR_OTHER_JOB, 'all', at);
    await audit(
      tx,
      { at, actorId: actor.accountId, action: 'refuseKey', world: snapshot.world },
      { snapshot: snapshot.name, keyId: snapshot.keyId, reason: why },
    );
  });
}

/** Takes a registry’s numbers off the pages, and its key out of those that are accepted. */
export async function removeOther(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'keepOtherRegistries', undefined, RECORD);
  const { snapshotId, reason: why } = parseInput(actSchema, input);
  await registry.db.$transaction(async (tx) => {
    const at = registry.now();
    const snapshot = await otherSnapshot(tx, snapshotId);
    if (snapshot === undefined) throw moved();
    await openIn(tx, snapshot.world);
    const to = { state: 'removed' as const, says: why, endedAt: at };
    if (!(await moveOtherSnapshot(tx, snapshotId, 'shown', to))) throw moved();
    await forgetKeyOf(tx, snapshot.world);
    await enqueueJob(tx, CLEAR_OTHER_JOB, 'all', at);
    await audit(
      tx,
      { at, actorId: actor.accountId, action: 'remove', world: snapshot.world },
      { snapshot: snapshot.name, keyId: snapshot.keyId, reason: why },
    );
  });
}

function audit(
  tx: Queryable,
  { world, action, ...act }: { at: Date; actorId: string | undefined; action: string; world: string },
  details: Record<string, string>,
): Promise<void> {
  return appendAudit(tx, {
    ...act,
    action: `otherRegistry.${action}`,
    subjectKind: 'otherRegistry',
    subjectId: world,
    details,
  });
}

function moved(): Conflict {
  return new Conflict('This has gone on in another window. Reload to see where it stands.');
}
