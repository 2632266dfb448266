'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { changeTrace, removeTrace } from '@/lib/registry/traces/attachTrace';
import { takeTraceValues } from '@/lib/registry/traces/takeTraceValues';

/** Writes the chosen values into the draft. */
export async function takeValues(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = String(data.get('runId') ?? '');
  try {
    await takeTraceValues(registry(), await signedIn(), {
      runId,
      draftVersion: Number(data.get('draftVersion')),
      names: data.getAll('take').map(String),
    });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  return done(`/record/${runId}?notice=fromTrace#part-loop`);
}

/** Takes another part of the recording as the run, or hides more of its ends. */
export async function change(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = String(data.get('runId') ?? '');
  try {
    await changeTrace(registry(), await signedIn(), {
      runId,
      window: windowOf(data.get('window')),
      trimM: data.has('trimM') ? Number(String(data.get('trimM')).replace(',', '.')) : undefined,
    });
  } catch (error) {
    return refused(error, textsOf(data));
  }
  return done(`/record/${runId}/trace?notice=changed`);
}

export async function takeOff(_previous: FormState, data: FormData): Promise<FormState> {
  const runId = String(data.get('runId') ?? '');
  try {
    await removeTrace(registry(), await signedIn(), { runId });
  } catch (error) {
    return refused(error, {});
  }
  return done(`/record/${runId}/trace?notice=removed`);
}

function done(href: string): never {
  revalidatePath('/record', 'layout');
  redirect(href);
}

/** "start-end" in milliseconds, or "whole". */
function windowOf(value: FormDataEntryValue | null) {
  if (typeof value !== 'string' || value === '') return undefined;
  if (value === 'whole') return 'whole' as const;
  const [startMs, endMs] = value.split('-').map(Number);
  return { startMs, endMs };
}
