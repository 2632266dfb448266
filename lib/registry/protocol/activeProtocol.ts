import { type ProtocolParameters, protocolParametersSchema } from '@/lib/protocol/parameters';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { activeProtocolVersion, insertCruiseClasses, insertProtocolVersionOnce } from '@/lib/store/protocol';
import type { Registry } from '../registry';

export interface ActiveProtocol {
  id: string;
  label: string;
  parameters: ProtocolParameters;
}

/** The protocol version in force, its parameters checked against today's schema. */
export async function activeProtocol(registry: Registry): Promise<ActiveProtocol> {
  const version = await activeProtocolVersion(registry.db);
  if (version === null)
    throw new Error('no protocol version is in force: the reference data was not written at start');
  return {
    id: version.id,
    label: version.label,
    parameters: protocolParametersSchema.parse(version.parameters),
  };
}

/** Writes what every registry needs before its first run: cruise classes and the first protocol. Idempotent. */
export async function ensureReferenceData(registry: Registry): Promise<void> {
  await insertCruiseClasses(
    registry.db,
    CRUISE_CLASSES.map((cruiseClass) => ({ ...cruiseClass })),
  );
  if ((await activeProtocolVersion(registry.db)) === null) {
    await insertProtocolVersionOnce(registry.db, { ...PROTOCOL_V1, at: registry.now() });
  }
}
