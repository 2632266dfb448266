import type { Role } from '@/lib/domain/roles';
import {
  accountByEmail,
  clearSignInFailures,
  countSignInFailures,
  recordSignInFailure,
} from '@/lib/store/accounts';
import type { Registry } from '../registry';
import { passwordMatches } from './password';

const WINDOW_MS = 15 * 60 * 1000;
const MOST_FAILURES = 10;

export type SignInResult =
  | { ok: true; accountId: string; displayName: string; role: Role; sessionEpoch: number }
  | { ok: false; reason: 'wrong' | 'tooManyTries' };

/** Checks e-mail and password; ten failures for one address within a quarter of an hour close it for that long. */
export async function signIn(
  registry: Registry,
  input: { email: string; password: string },
): Promise<SignInResult> {
  const email = input.email.trim().toLowerCase();
  const now = registry.now();
  const windowStart = new Date(now.getTime() - WINDOW_MS);
  if ((await countSignInFailures(registry.db, email, windowStart)) >= MOST_FAILURES) {
    return { ok: false, reason: 'tooManyTries' };
  }
  const account = await accountByEmail(registry.db, email);
  if (!(await passwordMatches(account?.passwordHash ?? null, input.password)) || account === null) {
    await clearSignInFailures(registry.db, email, windowStart);
    await recordSignInFailure(registry.db, email, now);
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
