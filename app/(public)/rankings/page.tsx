import type { Metadata } from 'next';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Figure } from '@/app/ui/figures/Figure';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readRankings } from '@/lib/registry/rankings/rankings';
import { senseOf } from '@/lib/units/sense';
import { IntervalWarning } from '../IntervalWarning';
import { NotConverged } from '../NotConverged';
import { OneRun } from '../OneRun';
import { FitNotes } from './FitNotes';
import { NotRankedTable } from './NotRankedTable';
import { hrefWith, one, ownUnitHref, rankingQuery, type SearchParams } from './query';
import { RankingFilters } from './RankingFilters';
import { RefitNotice } from './RefitNotice';
import { rankingFigure } from './rankingFigure';

export async function generateMetadata({
  searchParams,
}: {
  searchParams: Promise<SearchParams>;
}): Promise<Metadata> {
  const key = one(await searchParams, 'class');
  return pageMetadata('rankings', {
    title: 'Rankings',
    path: '/rankings',
    ...(key === undefined ? {} : { figure: { kind: 'ranking', key } }),
  });
}

export const dynamic = 'force-dynamic';

export default async function RankingsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const view = await readRankings(registry(), rankingQuery(params), await signedIn());
  if (view === undefined) return <NothingYet />;
  const display = await readerDisplay(params);
  const sense = senseOf(display.consumption);
  return (
    <>
      <PageHeader
        title="Rankings"
        lead={`Setups by ${sense.quantity} at a steady ${view.classLabel}, brought to reference conditions. ${sense.better}; a rank is the set of places that the intervals leave open.`}
      />
      {view.group.world === 'demo' ? <DemoMark /> : null}
      <ClassTabs
        classes={view.classes}
        current={view.group.cruiseClassKey}
        hrefOf={(key) => hrefWith('/rankings', params, { class: key, from: undefined })}
      />
      <RefitNotice refit={view.refit} />
      {view.fit.converged ? null : <NotConverged />}
      <IntervalWarning
        classKey={view.group.cruiseClassKey}
        classLabel={view.classLabel}
        world={view.group.world}
        faults={view.fit.faults}
      />
      <UnitNote unit={display.consumption} ownHref={ownUnitHref('/rankings', params)} />
      <RankingFilters view={view} params={params} />
      <Section
        id="ranked"
        title="Ranked setups"
        note="Each bar is a 95 % interval. It holds the scatter of runs, days and cars, and what is not known well about a model or the method itself. Whether two setups differ, their comparison tells: part of that cancels there, so overlapping bars alone decide nothing."
        wide
      >
        {view.ranked.length === 0 ? (
          <EmptyState title="No setup meets these filters and the protocol’s minimum counts.">
            Widen the filters, or look below at what is still missing.
          </EmptyState>
        ) : (
          <Figure figure={rankingFigure(view, params, display)} />
        )}
        <KeysetPages
          {...view.pages}
          label="Pages of ranked setups"
          hrefFor={(from) => hrefWith('/rankings', params, { from })}
        />
      </Section>
      <NotRankedTable setups={view.notRanked} of={view.notRankedOf} display={display} />
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
    </>
  );
}

function NothingYet() {
  return (
    <>
      <PageHeader title="Rankings" />
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
