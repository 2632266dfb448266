import { z } from 'zod';
import { authorise, requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { appealUntil, suspendedWords } from '@/lib/access/suspension';
import { letterOfSuspension } from '@/lib/mail/letters';
import { Conflict, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { worldKey } from '@/lib/run/world';
import { accountById } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import { insertNotification } from '@/lib/store/notices';
import { releaseClaimsOf } from '@/lib/store/reviews';
import { appealAgainst, closeSuspension, insertSuspension } from '@/lib/store/suspensions';
import type { Registry } from '../registry';
import type { Mail } from './mail';
import { stillSteward } from './stillSteward';

const suspendSchema = z.object({
  accountId: z.uuid(),
  reason: z
    .string()
    .trim()
    .min(10, 'The reason is too short. | The person reads it and answers to it. | Say what was done.')
    .max(500, 'The reason is too long. | It stands in a letter. | Use at most 500 characters.'),
});

const appealSchema = z.object({
  words: z
    .string()
    .trim()
    .min(
      20,
      'The appeal is too short. | Stewards decide by it. | Say what they overlooked, in a sentence or two.',
    )
    .max(2000, 'The appeal is too long. | Stewards read it whole. | Keep it under 2000 characters.'),
});

/**
 * Keeps an account from recording and reviewing from its next request on. What it did stays as it is: runs that count go
 * on counting unless they are held, runs and corrections that wait are decided on, and what it had taken for review goes
 * back to the queue. The person is told by a notice and by letter.
 */
export async function suspendAccount(
  registry: Registry,
  mail: Mail,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'manageRoles');
  requireFresh(actor, registry.now());
  const { accountId, reason, account } = await named(registry, actor, input);
  const at = registry.now();
  const says = suspendedWords({ reason, placedAt: at, isAppealed: false });
  await registry.db.$transaction(async (tx) => {
    await stillSteward(tx, actor);
    const placed = { accountId, reason, placedAt: at, placedById: actor.accountId };
    if (!(await insertSuspension(tx, placed))) throw new Conflict('This account is suspended already.');
    await releaseClaimsOf(tx, accountId, at);
    await tell(tx, { accountId, at, says, kind: 'account.suspend', by: actor, reason });
  });
  if (account.email)
    await mail.outbox.put(
      letterOfSuspension(account.email, mail.site, 'Your account is suspended', says),
      at,
    );
}

/** The account has its role's rights again from its next request on. */
export async function liftSuspension(
  registry: Registry,
  mail: Mail,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  authorise(actor, 'manageRoles');
  requireFresh(actor, registry.now());
  const { accountId, reason, account } = await named(registry, actor, input);
  const at = registry.now();
  const says = `The suspension of your account is lifted: ${reason}`;
  await registry.db.$transaction(async (tx) => {
    await stillSteward(tx, actor);
    const lifted = { liftedAt: at, liftedById: actor.accountId, liftReason: reason };
    if (!(await closeSuspension(tx, accountId, lifted))) throw new Conflict('This account is not suspended.');
    await tell(tx, { accountId, at, says, kind: 'account.liftSuspension', by: actor, reason });
  });
  if (account.email)
    await mail.outbox.put(
      letterOfSuspension(account.email, mail.site, 'The suspension of your account is lifted', says),
      at,
    );
}

/** What the person says against it, once and within its time; stewards read it beside the reason. */
export async function appealSuspension(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  const { words } = parseInput(appealSchema, input);
  const at = registry.now();
  const { suspension } = actor;
  if (suspension === undefined) throw new Conflict('This account is not suspended.');
  if (at > appealUntil(suspension)) throw new Conflict('The time for an appeal is over.');
  await registry.db.$transaction(async (tx) => {
    const appeal = { appeal: words, appealedAt: at, placedAt: suspension.placedAt };
    if (!(await appealAgainst(tx, actor.accountId, appeal)))
      throw new Conflict(
        'There is an appeal against this suspension already, or it was lifted a moment ago.',
      );
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.appealSuspension',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
  });
}

interface Told {
  accountId: string;
  at: Date;
  by: Actor;
  kind: 'account.suspend' | 'account.liftSuspension';
  reason: string;
  says: string;
}

async function tell(tx: Queryable, { accountId, at, by, kind, reason, says }: Told): Promise<void> {
  await insertNotification(tx, {
    accountId,
    runId: null,
    kind,
    text: says,
    href: '/account',
    createdAt: at,
    mailedAt: at,
  });
  await appendAudit(tx, {
    at,
    actorId: by.accountId,
    action: kind,
    subjectKind: 'account',
    subjectId: accountId,
    personal: { of: accountId, fields: { reason } },
  });
}

/** Who may suspend whom: a steward with a fresh proof, anybody of their world but themselves. */
async function named(registry: Registry, actor: Actor, input: unknown) {
  const { accountId, reason } = parseInput(suspendSchema, input);
  if (accountId === actor.accountId) throw new Conflict('Nobody suspends themselves, or lifts that.');
  const account = await accountById(registry.db, accountId);
  if (account === null || account.erasedAt !== null) throw new NotFound('This account does not exist.');
  authorise(actor, 'manageRoles', undefined, worldKey(account.world));
  return { accountId, reason, account };
}
