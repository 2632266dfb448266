'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { curatedKind } from '@/lib/registry/names/curation';
import { setHiding } from '@/lib/registry/names/hide';
import { renameCar, renameLevel, renameLoop, renameModel } from '@/lib/registry/names/rename';
import { MERGES, mergedKind } from './merges';

const RENAME = { loop: renameLoop, model: renameModel, car: renameCar } as const;

export async function rename(_state: FormState, data: FormData): Promise<FormState> {
  const values = shownTextsOf(data);
  const kind = curatedKind(text(data, 'kind'));
  let slug: string;
  try {
    slug = (await RENAME[kind](registry(), await signedIn(), values)).slug;
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
  const kind = mergedKind(text(data, 'kind')) ?? 'loop';
  let to: string;
  try {
    const merged = await MERGES[kind].merge(registry(), await signedIn(), values);
    to =
      'carId' in merged
        ? `/curate?kind=car&key=${merged.carId}`
        : `/${kind === 'loop' ? 'loops' : 'models'}/${merged.slug}`;
  } catch (error) {
    return refused(error, values);
  }
  revalidatePath('/', 'layout');
  redirect(to);
}
