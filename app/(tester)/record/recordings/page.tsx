import type { Metadata } from 'next';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { requireSignedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { myCars } from '@/lib/registry/cars/myCars';
import { readView } from '../../readView';
import { SendRecordings } from './SendRecordings';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Drafts from recordings' };

export default async function RecordingsPage() {
  const actor = await requireSignedIn('/record/recordings');
  const cars = await readView(myCars(registry(), actor));
  return (
    <>
      <PageHeader
        title="Drafts from recordings"
        breadcrumbs={[{ label: 'Record', href: '/record' }, { label: 'Recordings' }]}
        lead="Several recordings of one car at once. Each becomes a draft with its loop, day and true speed; the readings of the display are yours to add."
      />
      <Section
        id="send"
        title="Send recordings"
        note="A loop is recognised where you have submitted a recording of it before. Of the public track half a kilometre at either end stays hidden, as for a single recording."
      >
        {cars.length === 0 ? (
          <EmptyState title="No car yet.">
            <Link href="/my/cars" className="link">
              Add the car first
            </Link>
          </EmptyState>
        ) : (
          <SendRecordings cars={cars} />
        )}
      </Section>
    </>
  );
}
