'use server';

import { redirect } from 'next/navigation';
import type { FormState } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { boundUse } from '@/lib/registry/accounts/boundUse';
import { uploadImport } from '@/lib/registry/imports/uploadImport';

/** Takes the chosen sheet in and leads to its columns. */
export async function uploadSheet(_previous: FormState, data: FormData): Promise<FormState> {
  let importId: string;
  try {
    const actor = await signedIn();
    await boundUse(registry(), actor, 'upload');
    const file = data.get('file');
    const sheet =
      file instanceof File
        ? { fileName: file.name.slice(-200), bytes: new Uint8Array(await file.arrayBuffer()) }
        : { bytes: new Uint8Array() };
    ({ importId } = await uploadImport(registry(), actor, sheet));
  } catch (error) {
    return refused(error, {});
  }
  redirect(`/import/${importId}`);
}
