import type { Role } from '@/lib/run/roles';
import {
  accountByEmail,
  clearSignInFailures,
  countSignInFailures,
  forgetSignInFailure,
  recordSignInFailure,
} from '@/lib/store/accounts';
import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';
import { passwordMatches } from './password';

const WINDOW_MS = 15 * 60 * 1000;
const MOST_FAILURES = 10;
/** The longest address that sign-up takes; a longer one has no account and is not kept as a failure either. */
const LONGEST_EMAIL = 254;

export type SignInResult =
  | { ok: true; accountId: string; displayName: string; role: Role; sessionEpoch: number }
  | { ok: false; reason: 'wrong' | 'tooManyTries' };

/** What an address without an account is called in the log: the address itself is nobody's to keep. */
const NO_ACCOUNT = 'none';

/**
 * Checks e-mail and password; ten failures for one address within a quarter of an hour close it for that long. The log
 * tells each, whether the address has an account or not: both take as long.
 */
export async function signIn(
  registry: Registry,
  input: { email: string; password: string },
): Promise<SignInResult> {
  const email = String(input.email).trim().toLowerCase();
  const password = String(input.password);
  if (email.length > LONGEST_EMAIL || email.includes('\u0000')) return { ok: false, reason: 'wrong' };
  const now = registry.now();
  const windowStart = new Date(now.getTime() - WINDOW_MS);
  // Every try counts as failed until it is known not to be: tries sent all at once cannot slip past the count.
  const tryId = await recordSignInFailure(registry.db, email, now);
  if ((await countSignInFailures(registry.db, email, windowStart)) > MOST_FAILURES) {
    await forgetSignInFailure(registry.db, tryId);
    await recordFailure(registry, await accountByEmail(registry.db, email), 'tooManyTries');
    return { ok: false, reason: 'tooManyTries' };
  }
  const account = await accountByEmail(registry.db, email);
  if (!(await passwordMatches(account?.passwordHash ?? null, password)) || account === null) {
    await clearSignInFailures(registry.db, email, windowStart);
    await recordFailure(registry, account, 'wrong');
    return { ok: false, reason: 'wrong' };
  }
  await clearSignInFailures(registry.db, email);
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
