import { authorise } from '@/lib/access/authorise';
import { may } from '@/lib/access/permissions';
import { differencesBetween, type VersionDifferences } from '@/lib/protocol/compareVersions';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { dateText } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { protocolVersions } from '@/lib/store/protocol';
import type { Registry } from '../registry';
import { activeProtocol } from './activeProtocol';

export interface ProtocolOfferView {
  inForce: { id: string; label: string; since: string };
  /** The version that this release ships; none where the registry has had it. */
  offered: { label: string; summary: string; differences: VersionDifferences } | undefined;
  /** A demo account reads it, and cannot publish. */
  mayPublish: boolean;
}

/** What a steward can put in force, with everything that would change. */
export async function readProtocolOffer(
  registry: Registry,
  actor: Actor | undefined,
): Promise<ProtocolOfferView> {
  authorise(actor, 'manageProtocol');
  const [active, stored] = await Promise.all([activeProtocol(registry), protocolVersions(registry.db)]);
  const adoptedAt = stored.find(({ id }) => id === active.id)?.adoptedAt;
  const isKnown = stored.some(({ label }) => label === NEWEST_VERSION.label);
  const { label, summary } = NEWEST_VERSION;
  return {
    inForce: { id: active.id, label: active.label, since: dateText(adoptedAt) },
    offered: isKnown
      ? undefined
      : { label, summary, differences: differencesBetween(active, NEWEST_VERSION) },
    mayPublish: may(actor, 'manageProtocol', undefined, RECORD),
  };
}
