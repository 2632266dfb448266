'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { localPath } from '@/app/(account)/sign-in/localPath';
import { type FormState, shownTextsOf, text, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { keepInCookie } from '@/app/visitor/displayCookie';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { chosenPreferences, keepDisplay } from '@/lib/registry/accounts/display';
import { withoutDisplay } from './withoutDisplay';

/** Keeps the choice with the account, where there is one, and in this browser; then back to where it came from. */
export async function saveDisplay(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const actor = await signedIn();
    const input = textsOf(data);
    await keepInCookie(
      actor === undefined ? chosenPreferences(input) : await keepDisplay(registry(), actor, input),
    );
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  // The choice shows on every page.
  revalidatePath('/', 'layout');
  redirect(withoutDisplay(localPath(text(data, 'back') || undefined, '/')));
}
