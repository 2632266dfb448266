import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { RECORD } from '@/lib/run/world';
import { accountByIdForProof } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { FACTOR_SETTING, isSet, setSetting } from '@/lib/store/settings';
import type { Registry } from '../registry';

export function areFactorsRequired(registry: Registry): Promise<boolean> {
  return isSet(registry.db, FACTOR_SETTING);
}

/**
 * Has reviewers and stewards need a second factor, or leaves it to them. Only by a steward who has one in use: whoever
 * asks it of others must not be the first to be held back by it.
 */
export async function requireFactors(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'manageRoles', undefined, RECORD);
  requireFresh(actor, registry.now());
  const { areRequired } = parseInput(z.object({ areRequired: z.boolean() }), input);
  const own = await accountByIdForProof(registry.db, actor.accountId);
  if (areRequired && own?.secondFactor?.confirmedAt == null)
    throw new Conflict('Set up a second factor of your own first, on your account page.');
  await registry.db.$transaction(async (tx) => {
    if ((await isSet(tx, FACTOR_SETTING)) === areRequired) return;
    await setSetting(tx, FACTOR_SETTING, areRequired);
    await appendAudit(tx, {
      at: registry.now(),
      actorId: actor.accountId,
      action: areRequired ? 'registry.requireSecondFactor' : 'registry.freeSecondFactor',
      subjectKind: 'act',
      subjectId: 'secondFactor',
    });
  });
}
