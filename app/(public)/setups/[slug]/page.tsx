import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { countText } from '@/app/ui/countText';
import { DatasetData } from '@/app/ui/DatasetData';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { ReportLink } from '@/app/ui/ReportLink';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { promiseSentence } from '@/lib/answers/shownRange';
import { readSetup } from '@/lib/registry/setups/setup';
import { AS_DELIVERED, setupInText } from '@/lib/run/setupTitle';
import { estimateHref } from '../../estimate/estimateQuery';
import { OneRun } from '../../OneRun';
import { RunPages } from '../../RunPages';
import { hrefWith, one, ownUnitHref, type SearchParams } from '../../rankings/query';
import { ClassEstimates, compareHref } from './ClassEstimates';
import { SetupAnswer } from './SetupAnswer';
import { SetupRuns } from './SetupRuns';
import { SetupScreening } from './SetupScreening';
import { SetupSpread } from './SetupSpread';

export const dynamic = 'force-dynamic';

interface SetupPageProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const setupOf = cache((slug: string, classKey: string | undefined, from: string | undefined) =>
  readSetup(registry(), slug, { classKey, from }),
);

async function viewOf({ params, searchParams }: SetupPageProps) {
  const query = await searchParams;
  return setupOf((await params).slug, one(query, 'class'), one(query, 'from'));
}

export async function generateMetadata(props: SetupPageProps): Promise<Metadata> {
  const view = await viewOf(props);
  if (view === undefined) return { title: 'Setup not found' };
  return pageMetadata('setups', {
    title: `${view.title}, ${view.model}`,
    path: `/setups/${view.slug}`,
    figure: { kind: 'setup-runs', key: view.slug, query: { class: view.chosen?.classKey } },
    hasFeed: true,
  });
}

export default async function SetupPage(props: SetupPageProps) {
  const query = await props.searchParams;
  const view = await viewOf(props);
  if (view === undefined) {
    await leadOn('setup', (await props.params).slug, '', query);
    notFound();
  }
  const display = await readerDisplay(query);
  const path = `/setups/${view.slug}`;
  const { chosen } = view;
  const spread = view.spread === 'due' ? undefined : view.spread;
  return (
    <>
      <DatasetData
        name={`${view.title}, ${view.model}: energy consumption`}
        description={`Consumption of this setup at reference conditions, with 95 % intervals: ${countText({ runs: view.counts.runs })}.`}
        path={path}
        modifiedAt={chosen?.fittedAt}
        readAt={`/api/v1${path}`}
      />
      <PageHeader
        title={view.title}
        lead={
          <Link className="link" href={`/models/${view.modelSlug}`}>
            {view.model}
          </Link>
        }
        actions={
          chosen === undefined ? undefined : (
            <LinkButton href={estimateHref({ setup: view.slug, classKey: chosen.classKey })}>
              What would mine do?
            </LinkButton>
          )
        }
        breadcrumbs={[
          { label: 'Models', href: '/models' },
          { label: view.model, href: `/models/${view.modelSlug}` },
          { label: view.title },
        ]}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {chosen === undefined ? null : <SetupAnswer view={view} chosen={chosen} display={display} />}
      {chosen === undefined ? (
        <EmptyState title="No approved run of this setup yet." />
      ) : (
        <>
          <UnitNote unit={display.consumption} ownHref={ownUnitHref(path, query)} />
          <div>
            <LinkTabs
              label="Class of the runs shown"
              tabs={view.estimates.map((estimate) => ({
                href: hrefWith(path, query, {
                  class: estimate.classKey,
                  before: undefined,
                  after: undefined,
                }),
                label: estimate.classLabel,
                count: estimate.runs,
                current: estimate.classKey === chosen.classKey,
              }))}
            />
          </div>
          {view.promise === undefined ? null : (
            <p className="mt-4 max-w-[46rem]">{promiseSentence(view.promise, display)}</p>
          )}
          <SetupRuns view={view} chosen={chosen} display={display} />
          <ClassEstimates view={view} display={display} />
          <OneRun
            setups={view.estimates.map((estimate) => ({
              ...estimate,
              key: estimate.classKey,
              label: `At ${estimate.classLabel}`,
            }))}
            display={display}
          />

          {view.spread === 'due' ? (
            <Section id="screening" title="Cars, days and what stands out" wide>
              <p className="max-w-[46rem]">
                This is worked out with the next calculation of the class, which is under way or due within a
                day.
              </p>
            </Section>
          ) : null}
          {spread && spread.cars.length > 0 ? (
            <SetupSpread view={view} chosen={chosen} cars={spread.cars} of={spread.of} display={display} />
          ) : null}
          {spread ? (
            <SetupScreening
              display={display}
              screening={spread.screening}
              cars={spread.named}
              view={view}
              chosen={chosen}
            />
          ) : null}
          <Section id="list" title="Approved runs" note={`At ${chosen.classLabel}, the latest first.`} wide>
            <RunPages
              of={`of ${view.title} at ${chosen.classLabel}`}
              page={view.runs}
              path={path}
              query={query}
              sectionId="list"
              display={display}
              without={['model', 'setup']}
            />
          </Section>
        </>
      )}
      <Section
        id="levels"
        title="What was set"
        note={
          view.isBaseline
            ? 'This is the setup that the model’s others are held against.'
            : `Differs from ${setupInText(view.baseline?.title ?? AS_DELIVERED)} in ${view.differsIn.length} ${view.differsIn.length === 1 ? 'thing' : 'things'}.`
        }
      >
        <DefinitionList
          items={view.levels.map((level) => ({
            term: level.factorLabel,
            description: level.label,
            note: level.isAsDelivered ? 'as delivered' : undefined,
          }))}
        />
      </Section>
      {chosen === undefined || view.siblings.length === 0 ? null : (
        <Section id="siblings" title="Other setups of the model">
          <ul className="space-y-1">
            {view.siblings.map((sibling) => (
              <li key={sibling.setupId}>
                <Link className="link" href={`/setups/${sibling.slug}`}>
                  {sibling.title}
                </Link>{' '}
                <span className="text-sm text-ink-soft">
                  {sibling.runs} {sibling.runs === 1 ? 'run' : 'runs'} ·{' '}
                  <Link
                    className="link"
                    href={compareHref(chosen.classKey, view.world, [view.slug, sibling.slug])}
                  >
                    compare at {chosen.classLabel}
                    <span className="sr-only"> with {sibling.title}</span>
                  </Link>
                </span>
              </li>
            ))}
          </ul>
        </Section>
      )}
      <ReportLink kind="setup" of={view.slug} />
    </>
  );
}
