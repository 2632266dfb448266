import type { Registry } from '@/lib/registry/registry';

/** The registry as it was at an instant of the demo world: whatever is done through it bears that time. */
export function registryAt(registry: Registry, instant: string | number): Registry {
  const at = new Date(instant);
  return { ...registry, world: 'demo', now: () => at };
}
