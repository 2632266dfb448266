import { z } from 'zod';
import type { Database } from '@/lib/store/database';
import { isUniqueViolation } from '@/lib/store/database';

const KEY = 'demoWorld';

const markerSchema = z.object({
  state: z.enum(['loading', 'loaded']),
  seed: z.number(),
  scale: z.enum(['full', 'small']),
});

export type DemoMarker = z.infer<typeof markerSchema>;

/** Whether the demo world is in this registry, wholly or in part; undefined where it never was. */
export async function readDemoMarker(db: Database): Promise<DemoMarker | undefined> {
  const setting = await db.setting.findUnique({ where: { key: KEY }, select: { value: true } });
  return setting === null ? undefined : markerSchema.parse(setting.value);
}

/** False when another loader was first. */
export async function placeDemoMarker(db: Database, marker: DemoMarker): Promise<boolean> {
  try {
    await db.setting.create({ data: { key: KEY, value: { ...marker } }, select: { key: true } });
    return true;
  } catch (error) {
    if (isUniqueViolation(error)) return false;
    throw error;
  }
}

export async function completeDemoMarker(db: Database, marker: DemoMarker): Promise<void> {
  await db.setting.update({ where: { key: KEY }, data: { value: { ...marker } }, select: { key: true } });
}
