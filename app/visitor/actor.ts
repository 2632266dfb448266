import { headers } from 'next/headers';
import { redirect } from 'next/navigation';
import { getServerSession } from 'next-auth';
import { cache } from 'react';
import { ASKED_ADDRESS_HEADER, wholeAddress } from '@/lib/access/askedAddress';
import { currentActor, type SignedIn } from '@/lib/registry/accounts/currentActor';
import { authOptions } from './authOptions';
import { registry } from './registry';

/** Who asks, looked up once a request: undefined for a reader without account or with an ended session. */
export const signedIn = cache(async (): Promise<SignedIn | undefined> => {
  const session = await getServerSession(authOptions);
  const { accountId, sessionEpoch, signInKey } = session ?? {};
  // A token from before sign-ins were kept names none: it could be neither listed nor ended, so it counts as signed out.
  if (!accountId || sessionEpoch === undefined || !signInKey) return undefined;
  return currentActor(registry(), { accountId, sessionEpoch, signInKey });
});

/** For pages that make no sense without an account: sends the visitor to sign in and back here, query included. */
export async function requireSignedIn(backTo: string): Promise<SignedIn> {
  const actor = await signedIn();
  if (actor === undefined) {
    const back = wholeAddress(backTo, (await headers()).get(ASKED_ADDRESS_HEADER));
    redirect(`/sign-in?callbackUrl=${encodeURIComponent(back)}`);
  }
  return actor;
}
