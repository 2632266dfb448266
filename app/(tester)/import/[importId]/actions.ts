'use server';

import { redirect } from 'next/navigation';
import { signedIn } from '@/app/session/actor';
import { registry } from '@/app/session/registry';
import { checkImport, chooseSheet } from '@/lib/registry/imports/checkImport';
import { resumeImport, startImport, undoImport } from '@/lib/registry/imports/startImport';
import { type FormState, refused, textsOf } from '../../formState';
import { sheetReadingOf } from '../sheetReading';

const idOf = (data: FormData): string => String(data.get('importId') ?? '');

/** The dry run. A mapping that cannot be used yet is kept, with what it lacks. */
export async function checkSheet(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  let isUsable = false;
  try {
    const input = { importId, reading: sheetReadingOf(data) };
    ({ isUsable } = await checkImport(registry(), await signedIn(), input));
  } catch (error) {
    return refused(error, textsOf(data));
  }
  redirect(`/import/${importId}${isUsable ? '#rows' : '#columns'}`);
}

export async function takeSheet(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await chooseSheet(registry(), await signedIn(), { importId, sheetName: data.get('sheetName') });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  redirect(`/import/${importId}`);
}

export async function beginImport(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await startImport(registry(), await signedIn(), { importId, mode: data.get('mode') });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  redirect(`/import/${importId}`);
}

export async function takeImportBack(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await undoImport(registry(), await signedIn(), { importId });
  } catch (error) {
    return refused(error, {});
  }
  redirect(`/import/${importId}`);
}

export async function goOn(_previous: FormState, data: FormData): Promise<FormState> {
  const importId = idOf(data);
  try {
    await resumeImport(registry(), await signedIn(), { importId });
  } catch (error) {
    return refused(error, {});
  }
  redirect(`/import/${importId}`);
}
