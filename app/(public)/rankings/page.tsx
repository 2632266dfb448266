import type { Metadata } from 'next';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { countText } from '@/app/ui/countText';
import { DatasetData } from '@/app/ui/DatasetData';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { type OtherSource, readOthers } from '@/lib/registry/otherRegistries/others';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { senseOf } from '@/lib/units/sense';
import { IntervalWarning } from '../IntervalWarning';
import { NotConverged } from '../NotConverged';
import { OneRun } from '../OneRun';
import { askedOther, NOT_INDEXED } from '../registries/otherHref';
import { FitNotes } from './FitNotes';
import { NotRankedTable } from './NotRankedTable';
import { OtherBelow, OtherRankingPage } from './OtherRankingPage';
import { hrefWith, one, ownUnitHref, rankingQuery, type SearchParams } from './query';
import { PlainNotice, RankedGroups } from './RankedGroups';
import { RankingAnswer } from './RankingAnswer';
import { RankingFilters } from './RankingFilters';
import { RefitNotice } from './RefitNotice';
import { WhoseNumbers } from './WhoseNumbers';

export async function generateMetadata({
  searchParams,
}: {
  searchParams: Promise<SearchParams>;
}): Promise<Metadata> {
  const params = await searchParams;
  const key = one(params, 'class');
  if (askedOther(one(params, 'world')) !== undefined) return { ...pageMetadata('rankings'), ...NOT_INDEXED };
  return pageMetadata('rankings', {
    title: 'Rankings',
    path: '/rankings',
    ...(key === undefined ? {} : { figure: { kind: 'ranking', key } }),
  });
}

export const dynamic = 'force-dynamic';

export default async function RankingsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const other = askedOther(one(params, 'world'));
  if (other !== undefined) return <OtherRankingPage world={other} params={params} />;
  const [view, others] = await Promise.all([
    readRankings(registry(), rankingQuery(params), await signedIn()),
    readOthers(registry()),
  ]);
  if (view === undefined) return <NothingYet others={others} params={params} />;
  const beside = others.find(({ world }) => world === one(params, 'beside'))?.world;
  const display = await readerDisplay(params);
  const sense = senseOf(display.consumption);
  return (
    <>
      <PageHeader
        title="Rankings"
        lead={`Setups by ${sense.quantity} at a steady ${view.classLabel}. ${sense.better}.`}
      />
      <DatasetData
        name={`Consumption of electric-car setups at a steady ${view.classLabel}`}
        description={`Energy consumption at reference conditions of setups with a place in the ranking, with 95 % intervals: ${countText({ runs: view.fit.runCount })}.`}
        path={`/rankings?class=${view.group.cruiseClassKey}`}
        modifiedAt={view.fit.fittedAt}
        readAt={`/api/v1/rankings?class=${view.group.cruiseClassKey}&world=${view.group.world}`}
      />
      {view.group.world === 'demo' ? <DemoMark /> : null}
      <WhoseNumbers others={others} shown={undefined} beside={beside} params={params} />
      <ClassTabs
        classes={view.classes}
        current={view.group.cruiseClassKey}
        hrefOf={(key) => hrefWith('/rankings', params, { class: key, from: undefined })}
      />
      <RefitNotice refit={view.refit} progress={view.progress} />
      {view.fit.converged ? null : <NotConverged />}
      <IntervalWarning
        classKey={view.group.cruiseClassKey}
        classLabel={view.classLabel}
        world={view.group.world}
        faults={view.fit.faults}
      />
      <RankingAnswer view={view} display={display} />
      <UnitNote unit={display.consumption} ownHref={ownUnitHref('/rankings', params)} />
      <RankingFilters view={view} params={params} display={display} />
      {view.plain === null ? null : <PlainNotice view={view} display={display} />}
      <RankedGroups view={view} params={params} display={display} />
      <NotRankedTable view={view} unit={one(params, 'unit')} display={display} />
      <OneRun
        setups={[...view.ranked, ...view.notRanked].map((setup) => ({
          ...setup,
          key: setup.setupId,
          label: setup.title,
          detail: setup.model,
        }))}
        display={display}
      />
      <FitNotes view={view} display={display} />
      {beside === undefined ? null : (
        <OtherBelow
          world={beside}
          classKey={view.group.cruiseClassKey}
          classLabel={view.classLabel}
          params={params}
        />
      )}
    </>
  );
}

function NothingYet({ others, params }: { others: readonly OtherSource[]; params: SearchParams }) {
  return (
    <>
      <PageHeader title="Rankings" />
      <WhoseNumbers others={others} shown={undefined} beside={undefined} params={params} />
      <EmptyState
        title="No approved run yet."
        action={
          <LinkButton href="/record" variant="primary">
            Record the first one
          </LinkButton>
        }
      >
        A setup appears here when reviewers have approved its runs.
      </EmptyState>
    </>
  );
}
