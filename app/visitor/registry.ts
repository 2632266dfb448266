import { openRegistry } from '@/lib/registry/openRegistry';
import type { Registry } from '@/lib/registry/registry';

let opened: Registry | undefined;

/** The web process's registry; opening it opens no connection until the first query. */
export function registry(): Registry {
  opened ??= openRegistry();
  return opened;
}
