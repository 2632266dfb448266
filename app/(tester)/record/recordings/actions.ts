'use server';

import { revalidatePath } from 'next/cache';
import { finished, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { draftsFromRecordings, MOST_RECORDINGS } from '@/lib/registry/traces/draftsFromRecordings';
import type { SentRecordings } from './sentRecordings';

/** Makes drafts of the files and says of each what it became. */
export async function sendRecordings(_previous: SentRecordings, data: FormData): Promise<SentRecordings> {
  const values = textsOf(data);
  try {
    const chosen = data
      .getAll('recordings')
      .filter((file) => file instanceof File && file.size > 0) as File[];
    const files = await Promise.all(
      // One more than may be sent is enough to be told that they are too many.
      chosen.slice(0, MOST_RECORDINGS + 1).map(async (file) => ({
        fileName: file.name.slice(-300),
        bytes: new Uint8Array(await file.arrayBuffer()),
      })),
    );
    const { carId, timeZone } = values;
    const outcomes = await draftsFromRecordings(registry(), await signedIn(), { carId, timeZone, files });
    const drafts = outcomes.filter(({ kind }) => kind === 'draft').length;
    revalidatePath('/record');
    return {
      ...finished(
        `${drafts} of ${outcomes.length} ${outcomes.length === 1 ? 'file is' : 'files are'} drafts.`,
        values,
      ),
      outcomes,
    };
  } catch (error) {
    return { ...(await refused(error, values)), outcomes: [] };
  }
}
