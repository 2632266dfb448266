import { type Licence, licenceOf } from '@/lib/openData/licences';
import type { Queryable } from '@/lib/store/database';
import { LICENCE_SETTING, settingOf } from '@/lib/store/settings';

/** Under what the snapshots to come are published. */
export async function chosenLicence(db: Queryable): Promise<Licence> {
  return licenceOf(await settingOf(db, LICENCE_SETTING));
}
