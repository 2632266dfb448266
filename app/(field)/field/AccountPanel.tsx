'use client';

import { signOut } from 'next-auth/react';
import { Button } from '@/app/ui/Button';
import { forgetCurrent, wipeAccount } from './phone';
import { mayWipe } from './sendPlan';
import type { Field } from './useField';

/** Who notes here, and the way out: kept data can be wiped once it has all been sent, never before. */
export function AccountPanel({ field }: { field: Field }) {
  const { phone, lists, runs } = field;
  if (phone === undefined || lists === undefined) return null;
  const unsent = runs.filter(({ run, photos }) => !mayWipe(run, photos)).length;
  const leave = async (before: Promise<void>) => {
    await before;
    await signOut({ callbackUrl: '/' });
  };
  return (
    <section aria-labelledby="account-title" className="mt-10 border-t border-rule-strong pt-4">
      <h2 id="account-title">Signed in as {lists.displayName}</h2>
      <p className="mt-2 text-sm text-ink-soft">
        Other accounts that use this phone do not see your runs.{' '}
        {unsent > 0
          ? `${unsent === 1 ? 'One run is' : `${unsent} runs are`} not sent yet: they stay on this phone when you sign out, and are sent when you are back.`
          : null}
      </p>
      <div className="mt-3 space-y-3">
        <Button size="field" onClick={() => void leave(forgetCurrent(phone))}>
          {unsent > 0 ? 'Sign out and keep the runs here' : 'Sign out'}
        </Button>
        {unsent === 0 && runs.length > 0 ? (
          <Button
            size="field"
            variant="danger"
            onClick={() => void leave(wipeAccount(phone, lists.accountId))}
          >
            Sign out and wipe what is kept here
          </Button>
        ) : null}
      </div>
    </section>
  );
}
