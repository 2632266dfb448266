'use server';

import { revalidatePath } from 'next/cache';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readNotifications } from '@/lib/registry/accounts/readNotifications';

/** Everything listed now counts as read. */
export async function markRead(): Promise<void> {
  const actor = await signedIn();
  if (actor === undefined) return;
  await readNotifications(registry(), actor);
  revalidatePath('/', 'layout');
}
