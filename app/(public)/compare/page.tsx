import type { Metadata } from 'next';
import { oembedAddress } from '@/app/oembed/oembedAnswer';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { MOST_COMPARED, readComparison } from '@/lib/registry/comparisons/compare';
import { readTrips } from '@/lib/registry/estimates/readTrips';
import { IntervalWarning } from '../IntervalWarning';
import { NotConverged } from '../NotConverged';
import { OneRun } from '../OneRun';
import { one, type SearchParams } from '../rankings/query';
import { Answers } from './Answers';
import { BothSides } from './BothSides';
import { ChooseSetups } from './ChooseSetups';
import { CompareHead } from './CompareHead';
import { compareHref, compareQuery } from './compareQuery';
import { Differences } from './Differences';
import { OnATrip } from './OnATrip';
import { OtherWays } from './OtherWays';
import { PromisedRange } from './PromisedRange';
import { SessionPairs } from './SessionPairs';
import { Settle } from './Settle';
import { UsualTrips } from './UsualTrips';

export async function generateMetadata({
  searchParams,
}: {
  searchParams: Promise<SearchParams>;
}): Promise<Metadata> {
  const params = await searchParams;
  const { classKey, setupSlugs, world } = compareQuery(params);
  return pageMetadata('compare', {
    title: 'Compare setups',
    path: compareHref(params, {}),
    ...(classKey === undefined || setupSlugs.length < 2
      ? {}
      : {
          figure: { kind: 'differences', key: classKey, query: { setup: setupSlugs, world } },
          oembed: oembedAddress(compareHref(params, {})),
        }),
  });
}

export const dynamic = 'force-dynamic';

const LEAD = 'Hold setups against a baseline: how large the difference is, and how sure.';

export default async function ComparePage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const view = await readComparison(registry(), compareQuery(params));
  if (view === undefined) {
    return (
      <>
        <PageHeader title="Compare setups" lead={LEAD} />
        <EmptyState title="There is nothing to compare yet.">
          Setups can be compared once reviewers have approved runs of them.
        </EmptyState>
      </>
    );
  }
  const display = await readerDisplay(params);
  const { baseline } = view;
  const isAnswered = baseline !== undefined && view.differences.length > 0;
  const trips = isAnswered
    ? await readTrips(
        registry(),
        { world: view.group.world, classKey: view.group.cruiseClassKey },
        [baseline, ...view.others].map(({ slug }) => slug),
      )
    : [];
  const tabs = (
    <ClassTabs
      classes={view.classes}
      current={view.group.cruiseClassKey}
      hrefOf={(key) => compareHref(params, { class: key })}
    />
  );
  return (
    <>
      {isAnswered ? (
        <CompareHead
          view={view}
          baseline={baseline}
          publishHref={compareHref(params, {}, undefined, '/compare/publish')}
        />
      ) : (
        <PageHeader title="Compare setups" lead={LEAD} />
      )}
      {view.group.world === 'demo' ? <DemoMark /> : null}
      {isAnswered ? <Answers view={view} baseline={baseline} display={display} /> : null}
      {tabs}
      {isAnswered ? null : <ChooseSetups view={view} unit={one(params, 'unit')} />}
      <UnitNote
        unit={display.consumption}
        ownHref={one(params, 'unit') === undefined ? undefined : compareHref(params, { unit: undefined })}
      />
      {view.leftOut > 0 ? (
        <Notice
          kind="info"
          title={`The first ${MOST_COMPARED} setups are compared; ${view.leftOut} more were asked for.`}
        />
      ) : null}
      {view.unknownSlugs.length > 0 ? (
        <Notice
          kind="info"
          title={`Not driven at ${view.classLabel}, or unknown: ${view.unknownSlugs.join(', ')}`}
        />
      ) : null}
      {!isAnswered ? (
        <EmptyState title="Choose a baseline and at least one setup to hold against it.">
          Setups that differ in one thing only say the most: two changes made at once cannot be told apart.
        </EmptyState>
      ) : (
        <>
          {view.fit?.converged ? null : <NotConverged />}
          <IntervalWarning
            classKey={view.group.cruiseClassKey}
            classLabel={view.classLabel}
            world={view.group.world}
            faults={view.fit?.faults ?? null}
          />
          <Differences view={view} baseline={baseline} display={display} />
          <ChooseSetups view={view} unit={one(params, 'unit')} />
          <OnATrip view={view} baseline={baseline} display={display} />
          <PromisedRange view={view} baseline={baseline} display={display} />
          <UsualTrips view={view} trips={trips} display={display} />
          <SessionPairs view={view} baseline={baseline} display={display} />
          <BothSides view={view} baseline={baseline} display={display} />
          <OneRun
            setups={[baseline, ...view.others].map((setup) => ({
              ...setup,
              key: setup.setupId,
              label: setup.title,
              detail: setup.model,
            }))}
            display={display}
          />
          <Settle view={view} params={params} display={display} />
          <OtherWays view={view} baseline={baseline} display={display} />
        </>
      )}
    </>
  );
}
