'use client';

import { useEffect, useState } from 'react';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { DayCard, dayAddress } from './DayCard';
import { FieldHome } from './FieldHome';
import { RoomNotice } from './RoomNotice';
import { RunCard } from './RunCard';
import { Standing } from './Standing';
import { type Field, useField } from './useField';

/** Everything at /field: the list of kept days and runs, or the one that the address names. */
export function FieldCard() {
  const field = useField();
  const [runKey, openRun] = useRunInAddress();
  if (field.status !== 'ready' || field.lists === undefined) return <NotReady status={field.status} />;
  const open = field.runs.find(({ run }) => run.key === runKey);
  const day = field.days.find(({ key }) => dayAddress(key) === runKey);
  return (
    <>
      <Standing field={field} />
      <RoomNotice kept={field.runs} />
      {field.round === 'signedOut' ? (
        <Notice kind="caution" title="Your session has ended." live>
          <p>Nothing is lost: what you note stays on this phone and is sent when you have signed in again.</p>
          <SignInLink />
        </Notice>
      ) : null}
      {open !== undefined ? (
        <RunCard key={open.run.key} field={field} kept={open} onOpen={openRun} />
      ) : day !== undefined ? (
        <DayCard key={day.key} field={field} day={day} onOpen={openRun} />
      ) : (
        <FieldHome field={field} onOpen={openRun} />
      )}
    </>
  );
}

function NotReady({ status }: { status: Field['status'] }) {
  switch (status) {
    case 'stranger':
      return (
        <Notice kind="info" title="Sign in to use the field card.">
          <p>Runs kept on this phone are shown to the account that noted them.</p>
          <SignInLink />
        </Notice>
      );
    case 'unknown':
      return (
        <Notice kind="caution" title="No signal, and this phone does not know you yet." live>
          Open this page once while online and signed in. From then on it works without a signal.
        </Notice>
      );
    case 'noStorage':
      return (
        <Notice kind="problem" title="This browser keeps nothing." live>
          Private windows and blocked storage cannot hold a run. Use an ordinary window.
        </Notice>
      );
    case 'otherWindow':
      return (
        <Notice kind="caution" title="The field card is open in another window, in an earlier version." live>
          Close that window: what is typed there is kept, and this page then goes on by itself.
        </Notice>
      );
    default:
      return <p role="status">Opening what is kept on this phone…</p>;
  }
}

function SignInLink() {
  return (
    <LinkButton
      href={`/sign-in?callbackUrl=${encodeURIComponent(`/field${window.location.hash}`)}`}
      size="field"
      plain
    >
      Sign in
    </LinkButton>
  );
}

/** The open run stands behind the hash, so that reload and back work without a signal. */
function useRunInAddress(): [string, (key: string) => void] {
  const [key, setKey] = useState('');
  useEffect(() => {
    const read = () => setKey(window.location.hash.slice(1));
    const moved = () => {
      read();
      // A run takes the focus to its step's heading; back among the runs it is the page that has it.
      if (window.location.hash === '') document.getElementById('main')?.focus({ preventScroll: true });
    };
    read();
    window.addEventListener('hashchange', moved);
    return () => window.removeEventListener('hashchange', moved);
  }, []);
  return [
    key,
    (next) => {
      window.location.hash = next;
      window.scrollTo(0, 0);
    },
  ];
}
