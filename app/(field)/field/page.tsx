import type { Metadata } from 'next';
import { DayCaution } from './DayCaution';
import { FieldCard } from './FieldCard';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Field card' };

/** The same for everybody, so that a phone can keep it: whose runs it shows is found out on the phone. */
export default function FieldPage() {
  return (
    <>
      <h1 className="mb-2 text-xl">Field card</h1>
      <DayCaution />
      <noscript>
        The field card needs scripts. Without them, <a href="/record">record the run</a> when you are back.
      </noscript>
      <FieldCard />
    </>
  );
}
