import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { requireFresh } from '@/lib/access/fresh';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import { accountById } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import type { Queryable } from '@/lib/store/database';
import {
  confirmFactor,
  insertRecoveryCodes,
  removeSecondFactor,
  replaceUnconfirmed,
  secondFactorOf,
  spendRecoveryCode,
  spendStep,
} from '@/lib/store/secondFactors';
import type { Registry } from '../registry';
import { beginTry, failTry, forgiveTries, type Tried } from './boundTries';
import { hashOfRecoveryCode, newRecoveryCodes } from './recoveryCodes';
import { newTimeSecret, stepOfCode, timeSecretAddress } from './timeCode';
import { tooSoon } from './tooSoon';

export type SecondFactorView =
  | { state: 'none' }
  /** Shown to its owner until a first code proves that the device has it. */
  | { state: 'begun'; secret: string; address: string }
  | { state: 'inUse'; since: string; recoveryCodesLeft: number };

const codeSchema = z.object({
  code: z
    .string()
    .trim()
    .min(1, 'No code is entered. | It proves that you have the device. | Enter the code that the app shows.')
    .max(60, 'This is longer than a code. | Codes have six digits. | Enter the code that the app shows.'),
});

export async function readSecondFactor(
  registry: Registry,
  actor: Actor | undefined,
): Promise<SecondFactorView> {
  const accountId = accountOf(actor);
  const [factor, account] = await Promise.all([
    secondFactorOf(registry.db, accountId),
    accountById(registry.db, accountId),
  ]);
  if (factor === null) return { state: 'none' };
  if (factor.confirmedAt === null) {
    const address = timeSecretAddress(factor.secret, account?.email ?? account?.displayName ?? '');
    return { state: 'begun', secret: factor.secret, address };
  }
  const since = factor.confirmedAt.toISOString();
  return { state: 'inUse', since, recoveryCodesLeft: factor._count.recoveryCodes };
}

/** Makes a secret to take into an app. Nothing asks for it until a first code was entered. */
export async function beginSecondFactor(registry: Registry, actor: Actor | undefined): Promise<void> {
  const accountId = accountOf(actor);
  const createdAt = registry.now();
  if (actor !== undefined) requireFresh(actor, createdAt);
  await registry.db.$transaction(async (tx) => {
    if (!(await replaceUnconfirmed(tx, { accountId, secret: newTimeSecret(), createdAt })))
      throw new Conflict('A second factor is in use already.');
    await tell(tx, accountId, 'account.beginSecondFactor', createdAt);
  });
}

/** Puts it in use with a first code, and gives back the recovery codes: they are shown once and kept by their hashes. */
export async function confirmSecondFactor(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ recoveryCodes: string[] }> {
  const accountId = accountOf(actor);
  const { code } = parseInput(codeSchema, input);
  const at = registry.now();
  const factor = await secondFactorOf(registry.db, accountId);
  if (factor === null || factor.confirmedAt !== null) throw new Conflict('No second factor is being set up.');
  const { secret } = factor;
  const step = stepOfCode(secret, digitsOf(code), at);
  if (step === undefined) throw wrongCode();
  const recoveryCodes = newRecoveryCodes();
  await registry.db.$transaction(async (tx) => {
    if (!(await confirmFactor(tx, { accountId, secret, step, at })))
      throw new Conflict('The second factor was changed in another window.');
    const hashes = recoveryCodes.map((recovery) => hashOfRecoveryCode(accountId, recovery));
    await insertRecoveryCodes(tx, accountId, hashes);
    await tell(tx, accountId, 'account.useSecondFactor', at);
  });
  return { recoveryCodes };
}

/** Takes it off again, with a code: an unlocked screen is not enough. */
export async function endSecondFactor(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<void> {
  const accountId = accountOf(actor);
  if (actor !== undefined) requireFresh(actor, registry.now());
  const { code } = parseInput(codeSchema, input);
  const tried: Tried[] = [{ thing: 'code', which: accountId }];
  const waitS = await beginTry(registry, tried);
  if (waitS !== undefined) {
    const [what, why] = ['Too many wrong codes.', 'Nobody may find one by trying.'];
    throw await tooSoon(registry, { thing: 'code', accountId, path: 'code', what, why, waitS });
  }
  if (!(await takeCode(registry, accountId, code))) {
    await failTry(registry);
    throw wrongCode();
  }
  await forgiveTries(registry, tried);
  await registry.db.$transaction(async (tx) => {
    if (!(await removeSecondFactor(tx, accountId))) throw new Conflict('The second factor is off already.');
    await tell(tx, accountId, 'account.endSecondFactor', registry.now());
  });
}

/** Whether the code is one of the account's second factor, app or recovery; a right one is used up by it. */
export async function takeCode(registry: Registry, accountId: string, code: string): Promise<boolean> {
  const at = registry.now();
  const factor = await secondFactorOf(registry.db, accountId);
  if (factor === null || factor.confirmedAt === null) return false;
  const step = stepOfCode(factor.secret, digitsOf(code), at);
  if (step !== undefined) return spendStep(registry.db, accountId, step);
  return registry.db.$transaction(async (tx) => {
    if (!(await spendRecoveryCode(tx, accountId, hashOfRecoveryCode(accountId, code), at))) return false;
    await tell(tx, accountId, 'account.useRecoveryCode', at);
    return true;
  });
}

/** Apps show a code in groups. */
function digitsOf(code: string): string {
  return code.replace(/[\s-]/g, '');
}

function wrongCode(): InvalidInput {
  return new InvalidInput([
    {
      path: 'code',
      what: 'This code is not right.',
      why: 'A code holds for half a minute and works once.',
      fix: 'Enter the one that the app shows now; check that the device’s clock is right.',
    },
  ]);
}

function tell(tx: Queryable, accountId: string, action: string, at: Date): Promise<void> {
  return appendAudit(tx, { at, actorId: accountId, action, subjectKind: 'account', subjectId: accountId });
}

function accountOf(actor: Actor | undefined): string {
  requireSignedIn(actor);
  return actor.accountId;
}
