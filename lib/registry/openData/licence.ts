import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { LICENCES, type Licence, licenceOf } from '@/lib/openData/licences';
import { valuesOf } from '@/lib/run/namedValues';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { LICENCE_SETTING, setSetting, settingOf } from '@/lib/store/settings';
import type { Registry } from '../registry';

/** Under what the snapshots to come are published. */
export async function chosenLicence(db: Queryable): Promise<Licence> {
  return licenceOf(await settingOf(db, LICENCE_SETTING));
}

const licenceSchema = z.object({
  licence: z.enum(valuesOf(LICENCES), {
    error:
      'That licence is not among those offered. | A snapshot says under which of them it may be used. | Choose one of the list.',
  }),
});

/** Chooses the licence of the snapshots to come; those that are published keep theirs. */
export async function chooseLicence(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const { licence } = parseInput(licenceSchema, input);
  authorise(actor, 'chooseLicence', undefined, RECORD);
  await registry.db.$transaction(async (tx) => {
    const before = await chosenLicence(tx);
    if (before.value === licence) return;
    await setSetting(tx, LICENCE_SETTING, licence);
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: 'snapshot.chooseLicence',
      subjectKind: 'act',
      subjectId: 'dataLicence',
      details: { from: before.value, to: licence },
    });
  });
}
