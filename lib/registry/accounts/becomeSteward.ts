import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { refuseSuspended } from '@/lib/access/suspension';
import { NotAllowed } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { onlyWorldOf } from '@/lib/run/world';
import { setAccountRole } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Registry } from '../registry';
import { boundCodeTries, takeStewardCode } from './stewardCode';

const becomeStewardSchema = z.object({
  stewardCode: z
    .string()
    .trim()
    .min(1, 'No code is entered. | It proves that you run the server. | Copy it from the start message.')
    .max(60, 'This is longer than a code. | It has twelve characters. | Copy it from the start message.'),
});

/**
 * Makes an account that is open already the steward of a registry that has none, with the code of the last start. Its
 * sessions go on: the role is looked up at each request.
 */
export async function becomeSteward(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  if (onlyWorldOf(actor) !== undefined)
    throw new NotAllowed('An account of the demo world has no say in the record.', true, {
      accountId: actor.accountId,
      act: 'becomeSteward',
    });
  refuseSuspended(actor, 'becomeSteward');
  const { stewardCode } = parseInput(becomeStewardSchema, input);
  await boundCodeTries(registry, { source: actor.accountId, accountId: actor.accountId }, () =>
    registry.db.$transaction(async (tx) => {
      const at = registry.now();
      await takeStewardCode(tx, stewardCode, at);
      await setAccountRole(tx, actor.accountId, 'steward');
      await appendAudit(tx, {
        at,
        actorId: actor.accountId,
        action: 'account.becomeSteward',
        subjectKind: 'account',
        subjectId: actor.accountId,
        details: { from: actor.role, to: 'steward' },
      });
    }),
  );
}
