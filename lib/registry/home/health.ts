import type { Registry } from '../registry';

/** Whether the database answers. */
export async function isHealthy(registry: Registry): Promise<boolean> {
  try {
    await registry.db.$queryRaw`SELECT 1`;
    return true;
  } catch {
    return false;
  }
}
