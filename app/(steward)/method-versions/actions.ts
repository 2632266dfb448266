'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { adoptRoadLoads } from '@/lib/registry/method/adoptRoadLoads';

/** Adopts what the steward was shown, as a new version of the method. */
export async function adopt(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { label } = await adoptRoadLoads(registry(), await signedIn(), {
      world: text(data, 'world'),
      seenVersionId: text(data, 'seenVersionId') || null,
      learnedIds: data.getAll('learnedId'),
      summary: text(data, 'summary'),
    });
    revalidatePath('/', 'layout');
    return finished(`Version ${label} is in effect. All runs are being computed under it.`);
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}
