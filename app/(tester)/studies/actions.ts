'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, shownTextsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { planStudy, replanStudy } from '@/lib/registry/studies/planStudy';

/** Keeps a plan, or only shows what it would take: without scripts the page answers by this. */
export async function keepPlan(_previous: FormState, data: FormData): Promise<FormState> {
  const form = shownTextsOf(data);
  if (form.act === 'show') return { title: '', issues: [], values: form };
  const { studyId, version, carId, loopId, cruiseClassKey, question, reason, requestId } = form;
  let slug: string;
  try {
    const actor = await signedIn();
    ({ slug } = studyId
      ? await replanStudy(registry(), actor, {
          studyId,
          version: Number(version),
          question,
          reason,
          form,
        })
      : await planStudy(registry(), actor, { carId, loopId, cruiseClassKey, question, form, requestId }));
  } catch (error) {
    return refused(error, form);
  }
  revalidatePath('/studies', 'layout');
  redirect(`/studies/${slug}`);
}
