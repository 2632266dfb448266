'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { publishProtocol } from '@/lib/registry/protocol/publishProtocol';

/** Puts the version in force whose differences the steward was shown. */
export async function publish(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { label } = await publishProtocol(registry(), await signedIn(), {
      label: text(data, 'label'),
      seenVersionId: text(data, 'seenVersionId'),
      isConfirmed: text(data, 'isConfirmed') === 'yes',
    });
    revalidatePath('/', 'layout');
    return finished(`Version ${label} is in force. Runs sent in from now on are judged by it.`);
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}
