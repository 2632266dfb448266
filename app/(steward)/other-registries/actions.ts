'use server';

import { revalidatePath } from 'next/cache';
import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { acceptKey, refuseKey, removeOther } from '@/lib/registry/otherRegistries/decideKey';
import { type Received, uploadOther } from '@/lib/registry/otherRegistries/receive';

const PATH = '/other-registries';

export async function upload(_state: FormState, data: FormData): Promise<FormState> {
  let received: Received;
  try {
    const actor = await signedIn();
    await boundUse(registry(), actor, 'upload');
    const file = data.get('file');
    const bytes = file instanceof File ? file.stream() : new Blob([]).stream();
    received = await uploadOther(registry(), actor, { origin: text(data, 'origin'), bytes });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  const { name, trust } = received;
  if (trust === 'accepted') return finished(`${name} is being checked.`);
  return finished(
    `${name} is here. Its key ${trust === 'first' ? 'is new' : 'is another than the accepted one'}: it waits for your answer at the top of this page.`,
  );
}

export async function accept(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await acceptKey(registry(), await signedIn(), {
      snapshotId: text(data, 'snapshotId'),
      keyId: text(data, 'keyId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  return finished('Accepted. The snapshot is being checked.');
}

export async function refuse(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await refuseKey(registry(), await signedIn(), {
      snapshotId: text(data, 'snapshotId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  return finished('Not accepted; the snapshot is gone.');
}

export async function remove(_state: FormState, data: FormData): Promise<FormState> {
  try {
    await removeOther(registry(), await signedIn(), {
      snapshotId: text(data, 'snapshotId'),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  revalidatePath(PATH);
  revalidatePath('/rankings');
  return finished('Removed, and its key is no longer accepted.');
}
