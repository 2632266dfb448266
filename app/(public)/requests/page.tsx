import type { Metadata } from 'next';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readRequests } from '@/lib/registry/requests/requests';
import { hrefWith, one, type SearchParams } from '../rankings/query';
import { AskedSection } from './AskedSection';
import { WorthSection } from './WorthSection';

export const dynamic = 'force-dynamic';

interface RequestsPageProps {
  searchParams: Promise<SearchParams>;
}

export async function generateMetadata({ searchParams }: RequestsPageProps): Promise<Metadata> {
  const params = await searchParams;
  return pageMetadata('requests', {
    title: 'What to drive next',
    path: hrefWith('/requests', params, {}),
  });
}

export default async function RequestsPage({ searchParams }: RequestsPageProps) {
  const params = await searchParams;
  const [view, display] = await Promise.all([
    readRequests(registry(), await signedIn(), {
      classKey: one(params, 'class'),
      world: one(params, 'world'),
    }),
    readerDisplay(params),
  ]);
  return (
    <>
      <PageHeader
        title="What to drive next"
        lead={
          <>
            Which days of driving would teach most for an hour spent, and{' '}
            {view === undefined ? (
              'what readers ask for'
            ) : (
              <a className="link" href="#asked">
                what readers ask for
              </a>
            )}
            .
          </>
        }
      />
      {view === undefined ? (
        <EmptyState title="Nothing has been driven yet.">
          What teaches most follows from runs. The first of them open every question:{' '}
          <Link className="link" href="/studies/new">
            plan a study
          </Link>
          .
        </EmptyState>
      ) : (
        <>
          {view.group.world === 'demo' ? <DemoMark /> : null}
          <ClassTabs
            classes={view.classes}
            current={view.group.cruiseClassKey}
            hrefOf={(key) => hrefWith('/requests', params, { class: key })}
          />
          <WorthSection view={view} display={display} />
          <AskedSection view={view} />
        </>
      )}
      <SafetyCaution kind="plan" />
    </>
  );
}
