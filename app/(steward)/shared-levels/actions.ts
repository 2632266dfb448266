'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { removeSharedLevel, renameSharedLevel } from '@/lib/registry/factors/changeSharedLevel';
import { mapLevel } from '@/lib/registry/factors/mapLevel';
import { chooseBaselineLevel, nameSharedLevel } from '@/lib/registry/factors/nameSharedLevel';

const PATH = '/shared-levels';

export async function name(_state: FormState, data: FormData): Promise<FormState> {
  const words = text(data, 'words');
  try {
    await nameSharedLevel(registry(), await signedIn(), {
      world: text(data, 'world'),
      factor: text(data, 'factor'),
      words,
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  return finished(`“${words}” can be mapped to now.`);
}

export async function map(_state: FormState, data: FormData): Promise<FormState> {
  const sharedLevelId = text(data, 'sharedLevelId') || null;
  try {
    await mapLevel(registry(), await signedIn(), {
      levelId: text(data, 'levelId'),
      seenId: text(data, 'seenId') || null,
      sharedLevelId,
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath(PATH);
  return finished(sharedLevelId === null ? 'Mapped to none.' : 'Mapped.');
}

export async function holdAgainst(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await chooseBaselineLevel(registry(), await signedIn(), {
      seenId: text(data, 'seenId'),
      sharedLevelId: text(data, 'sharedLevelId'),
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath(PATH);
  return finished('The others are held against it now.');
}

export async function rename(_state: FormState, data: FormData): Promise<FormState> {
  const words = text(data, 'words');
  try {
    await renameSharedLevel(registry(), await signedIn(), {
      sharedLevelId: text(data, 'sharedLevelId'),
      seenWords: text(data, 'seenWords'),
      words,
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  return finished(`It is called “${words}” now.`);
}

export async function remove(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await removeSharedLevel(registry(), await signedIn(), {
      sharedLevelId: text(data, 'sharedLevelId'),
      seenMapped: text(data, 'seenMapped'),
    });
  } catch (error) {
    return refused(error);
  }
  revalidatePath(PATH);
  return finished('Removed.');
}
