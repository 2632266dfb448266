import type { Metadata } from 'next';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { FieldCard } from './FieldCard';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Field card' };

/** The same for everybody, so that a phone can keep it: whose runs it shows is found out on the phone. */
export default function FieldPage() {
  return (
    <div className="mx-auto max-w-[34rem]">
      <PageHeader title="Field card" />
      <SafetyCaution kind="field" />
      <noscript>
        The field card needs scripts. Without them, <a href="/record">record the run</a> when you are back.
      </noscript>
      <FieldCard />
    </div>
  );
}
