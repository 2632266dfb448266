'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { checkImport, chooseSheet, takeUpImport } from '@/lib/registry/imports/checkImport';
import { resumeImport, startImport, undoImport } from '@/lib/registry/imports/startImport';
import { sheetReadingOf } from '../sheetReading';

const idOf = (data: FormData): string => String(data.get('importId') ?? '');

/** Back to the page of the import, read anew: its address has not changed, but its state has. */
function showAnew(importId: string): never {
  revalidatePath(`/import/${importId}`);
  redirect(`/import/${importId}`);
}

/** The dry run. A mapping that cannot be used yet is kept, with what it lacks. */
export async function checkSheet(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await checkImport(registry(), await signedIn(), { importId, reading: sheetReadingOf(data) });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  return showAnew(importId);
}

export async function takeSheet(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    const { sheetName, headingRow } = textsOf(data);
    await chooseSheet(registry(), await signedIn(), { importId, sheetName, headingRow: headingRow || null });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  return showAnew(importId);
}

export async function beginImport(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    const { mode, failing } = textsOf(data);
    await startImport(registry(), await signedIn(), { importId, mode, failing: failing || undefined });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  return showAnew(importId);
}

export async function takeImportBack(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await undoImport(registry(), await signedIn(), { importId });
  } catch (error) {
    return refused(error, {});
  }
  return showAnew(importId);
}

export async function takeUp(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await takeUpImport(registry(), await signedIn(), { importId });
  } catch (error) {
    return refused(error, {});
  }
  return showAnew(importId);
}

export async function goOn(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await resumeImport(registry(), await signedIn(), { importId });
  } catch (error) {
    return refused(error, {});
  }
  return showAnew(importId);
}
