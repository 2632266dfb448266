'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { addDayToStudy } from '@/lib/registry/studies/addRuns';
import { guessStudy } from '@/lib/registry/studies/guesses';
import { abandonStudy, beginStudy, completeStudy, joinStudy } from '@/lib/registry/studies/moveStudy';
import { isSlug } from '@/lib/run/slug';

/** Fixes the plan. */
export async function begin(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await beginStudy(registry(), await signedIn(), { studyId: text(data, 'studyId') });
  } catch (error) {
    return refused(error);
  }
  return back(data);
}

/** Ends the study as driven. */
export async function complete(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await completeStudy(registry(), await signedIn(), { studyId: text(data, 'studyId') });
  } catch (error) {
    return refused(error);
  }
  return back(data);
}

/** Gives the study up, with a reason. */
export async function abandon(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await abandonStudy(registry(), await signedIn(), {
      studyId: text(data, 'studyId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  return back(data);
}

/** Takes part with a car of one's own. */
export async function join(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await joinStudy(registry(), await signedIn(), { studyId: text(data, 'studyId') });
  } catch (error) {
    return refused(error);
  }
  return back(data);
}

/** Adds a day that was sent in before. */
export async function addDay(_previous: FormState, data: FormData): Promise<FormState> {
  try {
    await addDayToStudy(registry(), await signedIn(), {
      studyId: text(data, 'studyId'),
      sessionId: text(data, 'sessionId'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  return back(data);
}

/** Says what one expects, or says it anew. */
export async function guess(_previous: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  try {
    await guessStudy(registry(), await signedIn(), values);
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/studies', 'layout');
  return finished('Kept. You may change it until the study ends.', values);
}

function back(data: FormData): never {
  const slug = text(data, 'slug');
  revalidatePath('/studies', 'layout');
  redirect(isSlug(slug) ? `/studies/${slug}` : '/studies');
}
