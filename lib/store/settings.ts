import type { Queryable } from './database';

/** Whether reviewers and stewards need a second factor. */
export const FACTOR_SETTING = 'secondFactorRequired';

/** Under what the snapshots to come are published (lib/openData/licences.ts). */
export const LICENCE_SETTING = 'dataLicence';

export async function settingOf(db: Queryable, key: string): Promise<unknown> {
  return (await db.setting.findUnique({ where: { key }, select: { value: true } }))?.value;
}

export async function isSet(db: Queryable, key: string): Promise<boolean> {
  return (await settingOf(db, key)) === true;
}

export async function setSetting(db: Queryable, key: string, value: boolean | string): Promise<void> {
  await db.setting.upsert({
    where: { key },
    create: { key, value },
    update: { value },
    select: { key: true },
  });
}
