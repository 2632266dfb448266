'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { mergeLoops } from '@/lib/registry/loops/mergeLoops';
import { setHiding } from '@/lib/registry/names/hide';
import { renameLevel, renameLoop, renameModel } from '@/lib/registry/names/rename';

export async function rename(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  const kind = text(data, 'kind') === 'model' ? 'model' : 'loop';
  let slug: string;
  try {
    const act = kind === 'model' ? renameModel : renameLoop;
    slug = (await act(registry(), await signedIn(), values)).slug;
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/', 'layout');
  redirect(`/curate?kind=${kind}&key=${slug}`);
}

export async function renameOneLevel(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  try {
    await renameLevel(registry(), await signedIn(), values);
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/', 'layout');
  return finished('Renamed; the titles of its setups say it.');
}

export async function hide(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  try {
    await setHiding(registry(), await signedIn(), values);
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/', 'layout');
  return finished(values.to === 'hidden' ? 'Hidden: its page stays.' : 'Listed again.');
}

export async function merge(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  let slug: string;
  try {
    slug = (await mergeLoops(registry(), await signedIn(), values)).slug;
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/', 'layout');
  redirect(`/loops/${slug}`);
}
