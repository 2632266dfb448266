import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { readStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { activeProtocolVersion, insertCruiseClasses, insertProtocolVersionOnce } from '@/lib/store/protocol';
import type { Registry } from '../registry';

export interface ActiveProtocol {
  id: string;
  label: string;
  parameters: ProtocolParameters;
}

/** The protocol version in force, read as it was stored. */
export async function activeProtocol(registry: Registry): Promise<ActiveProtocol> {
  const version = await activeProtocolVersion(registry.db);
  if (version === null)
    throw new Error('no protocol version is in force: the reference data was not written at start');
  return {
    id: version.id,
    label: version.label,
    parameters: readStoredParameters(version.parameters),
  };
}

/**
 * Writes what every registry needs before its first run: cruise classes and a protocol. Idempotent. A fresh registry
 * starts with the newest version; one that has a version in force keeps it until a steward publishes another.
 */
export async function ensureReferenceData(registry: Registry): Promise<void> {
  await insertCruiseClasses(
    registry.db,
    CRUISE_CLASSES.map((cruiseClass) => ({ ...cruiseClass })),
  );
  if ((await activeProtocolVersion(registry.db)) === null) {
    await insertProtocolVersionOnce(registry.db, { ...NEWEST_VERSION, at: registry.now() });
  }
}
