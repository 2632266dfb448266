'use server';

import { type FormState, finished, shownTextsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { sendReport } from '@/lib/registry/reports/sendReport';

export async function report(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  try {
    await sendReport(registry(), await signedIn(), values);
  } catch (error) {
    return refused(error, values);
  }
  return finished('Sent. A reviewer reads it, and a notice tells you what came of it.');
}
