import type { Role } from '@/lib/run/roles';
import {
  accountByEmail,
  clearSignInFailures,
  countSignInFailures,
  forgetSignInFailure,
  recordSignInFailure,
} from '@/lib/store/accounts';
import type { Registry } from '../registry';
import { passwordMatches } from './password';

const WINDOW_MS = 15 * 60 * 1000;
const MOST_FAILURES = 10;
/** The longest address that sign-up takes; a longer one has no account and is not kept as a failure either. */
const LONGEST_EMAIL = 254;

export type SignInResult =
  | { ok: true; accountId: string; displayName: string; role: Role; sessionEpoch: number }
  | { ok: false; reason: 'wrong' | 'tooManyTries' };

/** Checks e-mail and password; ten failures for one address within a quarter of an hour close it for that long. */
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
    return { ok: false, reason: 'tooManyTries' };
  }
  const account = await accountByEmail(registry.db, email);
  if (!(await passwordMatches(account?.passwordHash ?? null, password)) || account === null) {
    await clearSignInFailures(registry.db, email, windowStart);
    return { ok: false, reason: 'wrong' };
  }
  await clearSignInFailures(registry.db, email);
  return {
    ok: true,
    accountId: account.id,
    displayName: account.displayName,
    role: account.role,
    sessionEpoch: account.sessionEpoch,
  };
}
