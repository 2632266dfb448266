import { countAccounts } from '@/lib/store/accounts';
import { ensureStewardCode } from './accounts/stewardCode';
import { ensureReferenceData } from './protocol/activeProtocol';
import type { Registry } from './registry';

export interface PreparedRegistry {
  /** To be printed once; null when there is an account already. */
  stewardCode: string | null;
  isEmpty: boolean;
}

/** What has to be true before the first request: reference data written, a code for the first steward made. */
export async function prepareRegistry(registry: Registry): Promise<PreparedRegistry> {
  await ensureReferenceData(registry);
  return {
    stewardCode: await ensureStewardCode(registry),
    isEmpty: (await countAccounts(registry.db)) === 0,
  };
}
