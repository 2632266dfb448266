import { z } from 'zod';
import { requireSignedIn } from '@/lib/access/authorise';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import { accountByIdForProof } from '@/lib/store/accounts';
import { appendAudit } from '@/lib/store/audit';
import { proveSignIn } from '@/lib/store/signIns';
import type { Registry } from '../registry';
import { beginTry, failTry, forgiveTries, type Tried } from './boundTries';
import type { SignedIn } from './currentActor';
import { passwordMatches } from './password';
import { takeCode } from './secondFactor';
import { tooSoon } from './tooSoon';

const proofSchema = z.object({
  password: z.string().max(1000),
  code: z.string().trim().max(60).optional(),
});

export interface ProofView {
  /** An account without a password proves itself by signing in again through its provider. */
  hasPassword: boolean;
  asksForCode: boolean;
}

export async function readProof(registry: Registry, actor: SignedIn | undefined): Promise<ProofView> {
  requireSignedIn(actor);
  const account = await accountByIdForProof(registry.db, actor.accountId);
  return {
    hasPassword: account?.passwordHash != null,
    asksForCode: account?.secondFactor?.confirmedAt != null,
  };
}

/** The password again, and the code where there is a second factor: from now this sign-in is fresh. */
export async function proveSelf(
  registry: Registry,
  actor: SignedIn | undefined,
  input: unknown,
): Promise<void> {
  requireSignedIn(actor);
  const { password, code = '' } = parseInput(proofSchema, input);
  const account = await accountByIdForProof(registry.db, actor.accountId);
  const tried: Tried[] = [{ thing: 'password', which: actor.accountId }];
  const waitS = await beginTry(registry, tried);
  if (waitS !== undefined) {
    const [what, why] = [
      'Too many wrong tries.',
      'Someone at an unlocked screen must not find it by trying.',
    ];
    throw await tooSoon(registry, {
      thing: 'password',
      accountId: actor.accountId,
      path: 'password',
      what,
      why,
      waitS,
    });
  }
  if (!(await passwordMatches(account?.passwordHash ?? null, password))) {
    await failTry(registry);
    throw wrong('password', 'This is not the password.', 'Enter the one that you sign in with.');
  }
  if (account?.secondFactor?.confirmedAt != null && !(await takeCode(registry, actor.accountId, code))) {
    await failTry(registry);
    throw wrong('code', 'This code is not right.', 'Enter the one that the app shows now.');
  }
  await forgiveTries(registry, tried);
  const at = registry.now();
  await registry.db.$transaction(async (tx) => {
    if (!(await proveSignIn(tx, actor.accountId, actor.signInKey, at)))
      throw new Conflict('This sign-in was ended.');
    await appendAudit(tx, {
      at,
      actorId: actor.accountId,
      action: 'account.proveSelf',
      subjectKind: 'account',
      subjectId: actor.accountId,
    });
  });
}

function wrong(path: string, what: string, fix: string): InvalidInput {
  return new InvalidInput([
    { path, what, why: 'Someone at an unlocked screen must not be able to go on.', fix },
  ]);
}
