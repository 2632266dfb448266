import type { Metadata } from 'next';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { PageHeader } from '@/app/ui/PageHeader';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { type IntervalsView, readIntervals } from '@/lib/registry/holds/intervals';
import { dateText } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { intervalsHref } from '../IntervalWarning';
import { hrefWith, one, type SearchParams } from '../rankings/query';
import { utcText } from '../rankings/refitText';
import { Counted } from './Counted';
import { Scatter } from './Scatter';
import { Simulated } from './Simulated';
import { answerText } from './words';

export const metadata: Metadata = { title: 'Do the intervals hold?' };
export const dynamic = 'force-dynamic';

const LEAD =
  'An interval that says 95 % has to hold 95 times in 100. Here that is counted, on runs that came after it.';

export default async function IntervalsPage({ searchParams }: { searchParams: Promise<SearchParams> }) {
  const params = await searchParams;
  const display = await readerDisplay(params);
  const view = await readIntervals(registry(), {
    classKey: one(params, 'class'),
    world: one(params, 'world'),
  });
  return (
    <>
      <PageHeader title="Do the intervals hold?" lead={LEAD} meta={metaText(view)} />
      {view === undefined ? (
        <EmptyState title="There is no interval to ask about yet.">
          A class gets its intervals when reviewers have approved runs of it.
        </EmptyState>
      ) : (
        <ClassAnswer view={view} params={params} display={display} />
      )}
      <Simulated methodVersion={view?.fit?.methodVersion} display={display} />
    </>
  );
}

function metaText(view: IntervalsView | undefined): string | undefined {
  if (view?.held === undefined || view.fit === null) return undefined;
  return `Counted ${utcText(view.held.computedAt)}, for what was worked out from ${view.fit.runCount} runs, method ${view.fit.methodVersion}`;
}

interface ClassAnswerProps {
  view: IntervalsView;
  params: SearchParams;
  display: Display;
}

function ClassAnswer({ view, params, display }: ClassAnswerProps) {
  const { held, classLabel } = view;
  return (
    <>
      {view.group.world === 'demo' ? <DemoMark /> : null}
      <ClassTabs
        classes={view.classes}
        current={view.group.cruiseClassKey}
        hrefOf={(key) => hrefWith('/intervals', params, { class: key })}
      />
      {held === undefined ? (
        <EmptyState title={`Not yet computed at ${classLabel}.`}>
          It is counted in the background after each new fit of the class.
        </EmptyState>
      ) : (
        <>
          <p className="my-6 max-w-[46rem] text-lg">{answerText(classLabel, held, display)}</p>
          <Counted
            held={held}
            classLabel={classLabel}
            source={{
              source: {
                path: intervalsHref({ classKey: view.group.cruiseClassKey, world: view.group.world }),
                asOf: dateText(held.computedAt),
              },
              isDemo: view.group.world === 'demo',
            }}
            display={display}
          />
          <Scatter held={held} names={view.names} display={display} />
        </>
      )}
    </>
  );
}
