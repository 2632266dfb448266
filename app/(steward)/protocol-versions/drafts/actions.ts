'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, finished, shownTextsOf, text, textsOf } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { publishDraft, takeBackAnnouncement } from '@/lib/registry/protocol/drafts/activateDraft';
import { requestDryRun } from '@/lib/registry/protocol/drafts/dryRun';
import {
  describeDraft,
  discardDraft,
  saveDraftLimits,
  startDraft,
} from '@/lib/registry/protocol/drafts/editDraft';
import { dayWords } from '@/lib/run/localDate';

const PAGE = '/protocol-versions';
const draftRef = (data: FormData) => ({
  draftId: text(data, 'draftId'),
  revision: Number(text(data, 'revision')),
});

/** Begins a draft and leads to it. */
export async function start(_state: FormState, data: FormData): Promise<FormState> {
  let draftId: string;
  try {
    ({ draftId } = await startDraft(registry(), await signedIn(), {
      label: text(data, 'label'),
      summary: text(data, 'summary'),
    }));
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PAGE, 'layout');
  redirect(`${PAGE}/drafts/${draftId}`);
}

export async function describe(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await describeDraft(registry(), await signedIn(), {
      ...draftRef(data),
      label: text(data, 'label'),
      summary: text(data, 'summary'),
    });
    revalidatePath(PAGE, 'layout');
    return finished('Saved.');
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

/** Saves one part of the limits, and leads back to the draft, where the differences are shown. */
export async function saveLimits(_state: FormState, data: FormData): Promise<FormState> {
  const limits = Object.entries(textsOf(data)).filter(([name]) => /^(limit|afterwards|rule)\./.test(name));
  try {
    await saveDraftLimits(registry(), await signedIn(), {
      ...draftRef(data),
      part: text(data, 'part'),
      texts: new Map(limits),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PAGE, 'layout');
  redirect(`${PAGE}/drafts/${text(data, 'draftId')}?notice=saved`);
}

export async function discard(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await discardDraft(registry(), await signedIn(), draftRef(data));
  } catch (error) {
    return refused(error);
  }
  revalidatePath(PAGE, 'layout');
  redirect(PAGE);
}

export async function askDryRun(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await requestDryRun(registry(), await signedIn(), draftRef(data));
    revalidatePath(PAGE, 'layout');
    return finished('The dry run is asked for.');
  } catch (error) {
    return refused(error);
  }
}

/** Puts a draft in force at once or on a day. */
export async function publishOne(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { label, from } = await publishDraft(registry(), await signedIn(), {
      ...draftRef(data),
      seenVersionId: text(data, 'seenVersionId'),
      day: text(data, 'day'),
      isConfirmed: text(data, 'isConfirmed') === 'yes',
    });
    revalidatePath('/', 'layout');
    return finished(
      from === undefined
        ? `Version ${label} is in force. Runs sent in from now on are judged by it.`
        : `Version ${label} is announced: it comes into force as ${dayWords(from)} begins, by UTC.`,
    );
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
}

export async function takeBack(_state: FormState, data: FormData): Promise<FormState> {
  try {
    const { label } = await takeBackAnnouncement(registry(), await signedIn(), {
      draftId: text(data, 'draftId'),
    });
    revalidatePath('/', 'layout');
    return finished(`Version ${label} is a draft again.`);
  } catch (error) {
    return refused(error);
  }
}
