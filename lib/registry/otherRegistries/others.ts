import { authorise } from '@/lib/access/authorise';
import { type Licence, licenceOf } from '@/lib/openData/licences';
import type { Actor } from '@/lib/run/roles';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import {
  latestOtherSnapshots,
  otherRegistries,
  otherRegistry,
  otherSnapshotIn,
  type StoredOtherRegistry,
  type StoredOtherSnapshot,
  shownOtherSnapshots,
} from '@/lib/store/otherRegistries';
import type { Registry } from '../registry';
import { progressOfJob, type WorkProgress } from '../work/progress';
import { CHECK_OTHER_JOB } from './receive';

/** Whose numbers a page shows, which every page of them says. */
export interface OtherSource {
  world: WorldKey;
  origin: string;
  /** The host, for a tab or a cell. */
  name: string;
  snapshot: string;
  asOf: Date;
  /** The key that signed the snapshot that is shown. */
  keyId: string;
  methodVersion: string;
  licence: Licence;
  /** Their own invented runs, and not driven ones. */
  isInvented: boolean;
  rows: Record<string, number>;
}

export interface Other {
  snapshot: StoredOtherSnapshot;
  registry: StoredOtherRegistry;
  source: OtherSource;
}

/** Another registry of which a snapshot is shown. */
export async function readOther(registry: Registry, world: string): Promise<Other | undefined> {
  const [its, snapshot] = await Promise.all([
    otherRegistry(registry.db, world),
    otherSnapshotIn(registry.db, world, ['shown']),
  ]);
  if (its === null || snapshot === undefined) return undefined;
  return { snapshot, registry: its, source: sourceOf(its, snapshot) };
}

function sourceOf({ origin }: StoredOtherRegistry, snapshot: StoredOtherSnapshot): OtherSource {
  const { world, name, asOf, keyId, methodVersion, licence, theirWorld, rows } = snapshot;
  return {
    world: worldKey(world),
    origin,
    name: origin.replace(/^https?:\/\//, ''),
    snapshot: name,
    asOf,
    keyId,
    methodVersion,
    licence: licenceOf(licence),
    isInvented: theirWorld !== RECORD,
    rows,
  };
}

/** All registries of which something is shown, by their address. */
export async function readOthers(registry: Registry): Promise<OtherSource[]> {
  const [all, shown] = await Promise.all([otherRegistries(registry.db), shownOtherSnapshots(registry.db)]);
  return all.flatMap((one) => {
    const snapshot = shown.find(({ world }) => world === one.world);
    return snapshot === undefined ? [] : [sourceOf(one, snapshot)];
  });
}

export interface OtherReceived extends StoredOtherSnapshot {
  origin: string;
  /** The key that is accepted for its registry now. */
  acceptedKeyId: string | null;
  progress: WorkProgress | null;
}

export interface OthersKept {
  registries: (StoredOtherRegistry & { shown: StoredOtherSnapshot | undefined })[];
  /** What was brought here last. */
  received: OtherReceived[];
}

const MOST_RECEIVED = 50;

/** For stewards: which registries there are, whose key is accepted, and what became of what was brought here. */
export async function readOthersKept(registry: Registry, actor: Actor | undefined): Promise<OthersKept> {
  authorise(actor, 'keepOtherRegistries', undefined, RECORD);
  const [all, shown, latest] = await Promise.all([
    otherRegistries(registry.db),
    shownOtherSnapshots(registry.db),
    latestOtherSnapshots(registry.db, MOST_RECEIVED),
  ]);
  const byWorld = new Map(all.map((one) => [one.world, one]));
  return {
    registries: all.map((one) => ({ ...one, shown: shown.find(({ world }) => world === one.world) })),
    received: await Promise.all(
      latest.map(async (snapshot) => ({
        ...snapshot,
        origin: byWorld.get(snapshot.world)?.origin ?? '',
        acceptedKeyId: byWorld.get(snapshot.world)?.keyId ?? null,
        progress:
          snapshot.state === 'checking'
            ? await progressOfJob(registry.db, CHECK_OTHER_JOB, snapshot.id)
            : null,
      })),
    ),
  };
}
