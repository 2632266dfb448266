import type { Role } from '@/lib/run/roles';
import { accountByEmail } from '@/lib/store/accounts';
import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';
import { beginTry, endTry, failTry, forgiveTries, type Tried } from './boundTries';
import { passwordMatches } from './password';
import { takeCode } from './secondFactor';

/** The longest address that sign-up takes; a longer one has no account and is not kept as a failure either. */
const LONGEST_EMAIL = 254;

export interface SignInInput {
  email: string;
  password: string;
  /** Of the second factor, where the account has one; a recovery code does too. */
  code?: string | undefined;
  /** The network that it comes from, where that is known. */
  address?: string | undefined;
  /** The browser, where it has signed in with this e-mail address before. */
  device?: string | undefined;
}

export type SignInResult =
  | { ok: true; accountId: string; displayName: string; role: Role; sessionEpoch: number }
  | { ok: false; reason: 'wrong' | 'codeNeeded' | 'wrongCode' }
  | { ok: false; reason: 'tooSoon'; waitS: number };

/** What an address without an account is called in the log: the address itself is nobody's to keep. */
const NO_ACCOUNT = 'none';

/**
 * Checks e-mail, password and, where the account has one, the second factor. Failures make the next try wait, for longer each time: by the e-mail address and by the
 * network, or by the browser alone where it is known, so that nobody is kept out by what strangers try. The log tells
 * each, whether the address has an account or not: both take as long.
 */
export async function signIn(registry: Registry, input: SignInInput): Promise<SignInResult> {
  const email = String(input.email).trim().toLowerCase();
  const password = String(input.password);
  if (email.length > LONGEST_EMAIL || email.includes('\u0000')) return { ok: false, reason: 'wrong' };
  const ofPerson: Tried = input.device
    ? { thing: 'device', which: `${input.device}\n${email}` }
    : { thing: 'account', which: email };
  const ofNetwork: Tried[] =
    input.device || !input.address ? [] : [{ thing: 'address', which: input.address }];
  const waitS = await beginTry(registry, [ofPerson, ...ofNetwork]);
  if (waitS !== undefined) {
    await recordFailure(registry, await accountByEmail(registry.db, email), 'tooSoon');
    return { ok: false, reason: 'tooSoon', waitS };
  }
  const account = await accountByEmail(registry.db, email);
  if (!(await passwordMatches(account?.passwordHash ?? null, password)) || account === null) {
    await failTry(registry);
    await recordFailure(registry, account, 'wrong');
    return { ok: false, reason: 'wrong' };
  }
  if (account.secondFactor?.confirmedAt) {
    const code = String(input.code ?? '').trim();
    if (code === '') {
      // Neither failed nor done: what failed before stays counted, so that this does not buy tries at the code.
      await endTry(registry, [ofPerson, ...ofNetwork]);
      return { ok: false, reason: 'codeNeeded' };
    }
    if (!(await takeCode(registry, account.id, code))) {
      await failTry(registry);
      await recordFailure(registry, account, 'wrongCode');
      return { ok: false, reason: 'wrongCode' };
    }
  }
  await forgiveTries(registry, [ofPerson]);
  // Only this one: with an account of one's own, tries at others' would cost nothing.
  await endTry(registry, ofNetwork);
  await recordAct(registry, {
    actorId: account.id,
    action: 'account.signIn',
    subjectKind: 'account',
    subjectId: account.id,
  });
  return {
    ok: true,
    accountId: account.id,
    displayName: account.displayName,
    role: account.role,
    sessionEpoch: account.sessionEpoch,
  };
}

/** Nobody is known to have done it: the account is what was tried at. */
function recordFailure(registry: Registry, account: { id: string } | null, why: string): Promise<void> {
  return recordAct(registry, {
    actorId: undefined,
    action: 'account.signInFailed',
    subjectKind: 'account',
    subjectId: account?.id ?? NO_ACCOUNT,
    details: { why },
  });
}
