import { countAccounts, countOwnAccounts } from '@/lib/store/accounts';
import { ensureStewardCode } from './accounts/stewardCode';
import { fillCountedRuns } from './counted/showVersion';
import { requestNameKeys } from './names/fillNameKeys';
import { ensureReferenceData } from './protocol/activeProtocol';
import type { Registry } from './registry';
import { requestPictureHashes } from './runs/hashPictures';
import { requestRebuild } from './runs/rebuildInputs';
import { requestRenormalisation } from './runs/renormaliseAll';

export interface PreparedRegistry {
  /** To be printed; null when there is a steward already. */
  stewardCode: string | null;
  /** No account at all, not even one of the demo world. */
  isEmpty: boolean;
  hasOwnAccounts: boolean;
}

/**
 * What has to be true before the first request: reference data written, results asked for under this engine's method
 * version, a code for the first steward made.
 */
export async function prepareRegistry(registry: Registry): Promise<PreparedRegistry> {
  await ensureReferenceData(registry);
  await fillCountedRuns(registry);
  await requestRebuild(registry);
  await requestRenormalisation(registry);
  await requestPictureHashes(registry);
  await requestNameKeys(registry);
  return {
    stewardCode: await ensureStewardCode(registry),
    isEmpty: (await countAccounts(registry.db)) === 0,
    hasOwnAccounts: (await countOwnAccounts(registry.db)) > 0,
  };
}
