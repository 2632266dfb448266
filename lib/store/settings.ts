import type { Queryable } from './database';

/** Whether reviewers and stewards need a second factor. */
export const FACTOR_SETTING = 'secondFactorRequired';

export async function isSet(db: Queryable, key: string): Promise<boolean> {
  const row = await db.setting.findUnique({ where: { key }, select: { value: true } });
  return row?.value === true;
}

export async function setSetting(db: Queryable, key: string, value: boolean): Promise<void> {
  await db.setting.upsert({
    where: { key },
    create: { key, value },
    update: { value },
    select: { key: true },
  });
}
