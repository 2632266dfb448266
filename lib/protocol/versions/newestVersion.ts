import type { CompleteParameters, ShippedVersion } from '../parameters';
import { PROTOCOL_V3_3 } from './v3_3';

/**
 * The version that this release ships: it has every rule. A fresh registry starts with it; a steward of an older one
 * puts it in force. The versions before it stand beside it, as registries hold them: once in force, none is edited.
 */
export const NEWEST_VERSION: ShippedVersion & { parameters: CompleteParameters } = PROTOCOL_V3_3;
