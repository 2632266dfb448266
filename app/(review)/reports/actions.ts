'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { settleReport } from '@/lib/registry/reports/reports';

export async function settle(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  try {
    await settleReport(registry(), await signedIn(), values);
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/reports');
  return finished('Settled; who reported it is told.');
}
