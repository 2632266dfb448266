'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { timeRuns, VIDEO_FIELD } from '@/lib/registry/studies/timeRuns';

/** Says where one's runs begin in one's video. */
export async function saveVideoTimes(_previous: FormState, data: FormData): Promise<FormState> {
  const times = Object.entries(textsOf(data)).flatMap(([name, value]): [string, string][] =>
    name.startsWith(VIDEO_FIELD) ? [[name.slice(VIDEO_FIELD.length), value]] : [],
  );
  try {
    await timeRuns(registry(), await signedIn(), {
      studyId: text(data, 'studyId'),
      times: Object.fromEntries(times),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath('/studies', 'layout');
  return finished('The times are kept; the list above has them.', shownTextsOf(data));
}
