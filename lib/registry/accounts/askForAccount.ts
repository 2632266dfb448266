import { z } from 'zod';
import { letterOfSecondSignUp } from '@/lib/mail/letters';
import { faultOfPersonName, nameField } from '@/lib/run/names/publicName';
import { parseInput } from '@/lib/run/parseInput';
import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';
import type { Mail } from './mail';
import { sendProof } from './proveAddress';
import { AddressTaken, NAME_BOUNDS, signUp } from './signUp';

/**
 * Opens an account for a visitor and says no more than that the address has one now: whether it had one before is
 * nobody's to ask. Its holder is told by letter either way. A stranger can still find out by signing in with the password just chosen, which counts
 * as a try at that account and from that network (`delays.ts`); the page alone does not tell.
 */
export async function askForAccount(
  registry: Registry,
  mail: Mail,
  input: unknown,
  address?: string,
): Promise<void> {
  parseInput(z.object({ displayName: nameField(NAME_BOUNDS, faultOfPersonName) }), input);
  try {
    const { accountId, email } = await signUp(registry, input, address, true);
    await sendProof(registry, mail, accountId, email);
  } catch (error) {
    if (!(error instanceof AddressTaken)) throw error;
    await recordAct(registry, {
      actorId: undefined,
      action: 'account.signUpAgain',
      subjectKind: 'account',
      subjectId: 'none',
    });
    await mail.outbox.put(letterOfSecondSignUp(error.email, mail.site), registry.now());
  }
}
