'use server';

import { revalidatePath } from 'next/cache';
import { signedIn } from '@/app/visitor/actor';
import { type FormState, text, typedValues } from '@/app/visitor/formState';
import { problemOf } from '@/app/visitor/problem';
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
    return { done: `Version ${label} is in effect. All runs are being computed under it.` };
  } catch (error) {
    return { problem: problemOf(error), values: typedValues(data) };
  }
}
