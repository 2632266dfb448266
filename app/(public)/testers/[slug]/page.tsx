import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { countText } from '@/app/ui/countText';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { ReportLink } from '@/app/ui/ReportLink';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readTester } from '@/lib/registry/accounts/tester';
import { RunPages } from '../../RunPages';
import { one, ownUnitHref, type SearchParams } from '../../rankings/query';

export const dynamic = 'force-dynamic';

interface TesterPageProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const testerOf = cache((slug: string, from: string | undefined) => readTester(registry(), slug, from));

export async function generateMetadata({ params, searchParams }: TesterPageProps): Promise<Metadata> {
  const tester = await testerOf((await params).slug, one(await searchParams, 'from'));
  if (tester === undefined) return { title: 'Tester not found' };
  return pageMetadata('testers', {
    title: tester.displayName,
    path: `/testers/${(await params).slug}`,
    hasFeed: true,
  });
}

export default async function TesterPage({ params, searchParams }: TesterPageProps) {
  const query = await searchParams;
  const tester = await testerOf((await params).slug, one(query, 'from'));
  if (tester === undefined) notFound();
  const display = await readerDisplay(query);
  const others = tester.publicRuns - tester.runs.total;
  return (
    <>
      <PageHeader
        title={tester.displayName}
        lead="Tester"
        meta={`${countText({ runs: tester.runs.total })} approved${others > 0 ? `, ${others} retracted or superseded` : ''}`}
      />
      {tester.world === 'demo' ? <DemoMark /> : null}
      <Section
        id="cars"
        title="Cars driven"
        note="By model. Names, plates and other data of a car stay with its owner."
      >
        {tester.models.length === 0 ? (
          <p className="text-ink-soft">None with an approved run.</p>
        ) : (
          <ul className="space-y-1">
            {tester.models.map((model) => (
              <li key={model.slug}>
                <Link className="link" href={`/models/${model.slug}`}>
                  {model.name}
                </Link>{' '}
                <span className="num text-sm text-ink-soft">
                  {countText({ cars: model.cars, runs: model.runs })}
                </span>
              </li>
            ))}
          </ul>
        )}
      </Section>
      <Section id="runs" title="Approved runs" wide>
        {tester.runs.total === 0 ? (
          <EmptyState title="No approved run yet." />
        ) : (
          <>
            <UnitNote
              unit={display.consumption}
              ownHref={ownUnitHref(`/testers/${tester.slug}`, query, 'runs')}
            />
            <RunPages
              of={`of ${tester.displayName}`}
              page={tester.runs}
              path={`/testers/${tester.slug}`}
              query={query}
              sectionId="runs"
              display={display}
              without={['tester']}
            />
          </>
        )}
      </Section>
      <ReportLink kind="tester" of={tester.slug} />
    </>
  );
}
