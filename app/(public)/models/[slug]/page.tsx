import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { CurateLink } from '@/app/account/CurateLink';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { HiddenNote } from '@/app/ui/HiddenNote';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { ReportLink } from '@/app/ui/ReportLink';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { mayCorrectModel } from '@/lib/registry/models/correctModel';
import { type ModelView, readModel } from '@/lib/registry/models/model';
import { estimateHref } from '../../estimate/estimateQuery';
import { IntervalWarning } from '../../IntervalWarning';
import { OneRun } from '../../OneRun';
import { RunPages } from '../../RunPages';
import { hrefWith, one, ownUnitHref, type SearchParams } from '../../rankings/query';
import { Charging } from './Charging';
import { DataSheet } from './DataSheet';
import { ModelAnswers } from './ModelAnswers';
import { RoadLoad } from './RoadLoad';
import { SetupEstimates } from './SetupEstimates';
import { SingleChanges } from './SingleChanges';

export const dynamic = 'force-dynamic';

interface ModelPageProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const modelOf = cache((slug: string, classKey: string | undefined, from: string | undefined) =>
  readModel(registry(), slug, { classKey, from }),
);

async function viewOf({ params, searchParams }: ModelPageProps) {
  const query = await searchParams;
  return modelOf((await params).slug, one(query, 'class'), one(query, 'from'));
}

export async function generateMetadata(props: ModelPageProps): Promise<Metadata> {
  const view = await viewOf(props);
  if (view === undefined) return { title: 'Model not found' };
  return pageMetadata('models', {
    title: view.name,
    path: `/models/${view.slug}`,
    figure: { kind: 'changes', key: view.slug, query: { class: view.classKey } },
  });
}

export default async function ModelPage(props: ModelPageProps) {
  const query = await props.searchParams;
  const view = await viewOf(props);
  if (view === undefined) {
    await leadOn('model', (await props.params).slug, '', query);
    notFound();
  }
  const display = await readerDisplay(query);
  const path = `/models/${view.slug}`;
  const asked = askedOf(view);
  return (
    <>
      <PageHeader
        title={view.name}
        breadcrumbs={[{ label: 'Models', href: '/models' }, { label: view.name }]}
        meta={`${view.setups.length} ${view.setups.length === 1 ? 'setup' : 'setups'} · ${view.runs.total} approved ${view.runs.total === 1 ? 'run' : 'runs'}`}
        actions={
          asked === undefined ? undefined : (
            <LinkButton href={estimateHref({ setup: asked, classKey: view.classKey })}>
              What would mine do?
            </LinkButton>
          )
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <HiddenNote what="model" reason={view.hiddenReason} />
      <ModelAnswers view={view} display={display} />
      {view.classes.length === 0 ? (
        <EmptyState title="No run of this model counts yet.">
          Its setups get their numbers when reviewers have approved runs of them.
        </EmptyState>
      ) : (
        <>
          <ClassTabs
            classes={view.classes}
            current={view.classKey}
            hrefOf={(key) => hrefWith(path, query, { class: key })}
          />
          <UnitNote unit={display.consumption} ownHref={ownUnitHref(path, query)} />
        </>
      )}
      {view.classKey === undefined ? null : (
        <IntervalWarning
          classKey={view.classKey}
          classLabel={view.classLabel}
          world={view.world}
          faults={view.faults}
        />
      )}
      <SingleChanges display={display} view={view} />
      <SetupEstimates view={view} display={display} />
      <OneRun
        setups={view.setups.flatMap(({ setupId, title, estimate }) =>
          estimate ? [{ ...estimate, key: setupId, label: title }] : [],
        )}
        display={display}
      />
      <Section id="runs" title="Approved runs" note="Of all classes, the latest first." wide>
        <RunPages
          page={view.runs}
          path={path}
          query={query}
          sectionId="runs"
          display={display}
          without={['model']}
        />
      </Section>
      <RoadLoad model={view} display={display} />
      <Charging slug={view.slug} display={display} />
      <DataSheet
        display={display}
        view={view}
        mayCorrect={await mayCorrectModel(registry(), await signedIn(), view.slug)}
      />
      <CurateLink kind="model" of={view.slug} />
      <ReportLink kind="model" of={view.slug} />
    </>
  );
}

/** The setup that an estimate begins with: the model as delivered where that was driven, else the one with most runs. */
function askedOf({ setups, baseline }: ModelView): string | undefined {
  const driven = setups.filter(({ estimate }) => estimate !== undefined).sort((a, b) => b.runs - a.runs);
  return (driven.find(({ setupId }) => setupId === baseline?.setupId) ?? driven[0])?.slug;
}
