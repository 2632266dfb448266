import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { letterOfChange } from '@/lib/mail/letters';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { accountById } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { insertNotification } from '@/lib/store/notices';
import { removeSecondFactor } from '@/lib/store/secondFactors';
import type { Registry } from '../registry';
import type { Mail } from './mail';
import { endAllAccess } from './personalTokens';

const removeSchema = z.object({
  accountId: z.uuid(),
  reason: z
    .string()
    .trim()
    .min(
      10,
      'The reason is missing. | It stands in the log: this is how accounts are taken over. | Say how you know that it is the person.',
    )
    .max(500, 'The reason is too long. | The log keeps a sentence. | Use at most 500 characters.'),
});

/**
 * Takes off the second factor of somebody who lost the device and the recovery codes. The password stays asked for, every
 * place is signed out, and the person is told by a notice and by letter.
 */
export async function removeLostFactor(
  registry: Registry,
  mail: Mail,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'manageRoles');
  requireFresh(actor, registry.now());
  const { accountId, reason } = parseInput(removeSchema, input);
  if (accountId === actor.accountId)
    throw new Conflict('Take your own off on your account page, with a code.');
  const account = await accountById(registry.db, accountId);
  if (account === null) throw new NotFound('This account does not exist.');
  authorise(actor, 'manageRoles', undefined, worldKey(account.world));
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    if (!(await removeSecondFactor(tx, accountId))) throw new Conflict('This account has no second factor.');
    await endAllAccess(tx, accountId, at);
    await insertNotification(tx, {
      accountId,
      runId: null,
      kind: 'secondFactorRemoved',
      text: 'A steward took your second factor off, as it was said to be lost. Set up a new one.',
      href: '/account',
      createdAt: at,
      mailedAt: at,
    });
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.removeSecondFactor',
      subjectKind: 'account',
      subjectId: accountId,
      personal: { of: accountId, fields: { reason } },
    });
  });
  if (account.email)
    await mail.outbox.put(
      letterOfChange(
        account.email,
        mail.site,
        'A steward took your second factor off, as it was said to be lost.',
      ),
      at,
    );
}
