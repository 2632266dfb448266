import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';
import { AddressTaken, signUp } from './signUp';

/**
 * Opens an account for a visitor and says no more than that the address has one now: whether it had one before is
 * nobody's to ask. Without mail a stranger can still find out by signing in with the password just chosen, which counts
 * as a try at that account and from that network (`delays.ts`); the page alone does not tell.
 */
export async function askForAccount(registry: Registry, input: unknown, address?: string): Promise<void> {
  try {
    await signUp(registry, input, address);
  } catch (error) {
    if (!(error instanceof AddressTaken)) throw error;
    await recordAct(registry, {
      actorId: undefined,
      action: 'account.signUpAgain',
      subjectKind: 'account',
      subjectId: 'none',
    });
  }
}
