import { countAccounts } from '@/lib/store/accounts';
import type { Registry } from '../registry';

/** Nobody has an account yet: the first one may become steward with the code printed at start. */
export async function isRegistryEmpty(registry: Registry): Promise<boolean> {
  return (await countAccounts(registry.db)) === 0;
}
