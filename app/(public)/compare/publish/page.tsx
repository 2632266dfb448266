import type { Metadata } from 'next';
import { comparisonEmbed } from '@/app/embed/embeddable';
import { PackEmbed } from '@/app/publishPack/PackEmbed';
import { PackFigures } from '@/app/publishPack/PackFigures';
import { PackWords } from '@/app/publishPack/PackWords';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readComparison } from '@/lib/registry/comparisons/compare';
import { snapshotToCite } from '@/lib/registry/openData/snapshots';
import { IntervalWarning } from '../../IntervalWarning';
import { NotConverged } from '../../NotConverged';
import type { SearchParams } from '../../rankings/query';
import { compareHref, compareQuery } from '../compareQuery';
import { citationOfComparison, comparedWords, compareVideoText } from '../compareWords';
import { differencesFigure } from '../differencesFigure';
import { pairsFigure } from '../pairsFigure';
import { sidesFigure } from '../sidesFigure';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Publish a comparison', robots: { index: false } };

/** Everything that a video or an article about a comparison needs, in one place. */
export default async function PublishComparisonPage({
  searchParams,
}: {
  searchParams: Promise<SearchParams>;
}) {
  const params = await searchParams;
  const view = await readComparison(registry(), compareQuery(params));
  const display = await readerDisplay(params);
  const baseline = view?.baseline;
  const breadcrumbs = [{ label: 'Compare', href: compareHref(params, {}) }, { label: 'Publish' }];
  if (view === undefined || baseline === undefined || view.differences.length === 0) {
    return (
      <>
        <PageHeader title="Publish a comparison" breadcrumbs={breadcrumbs} />
        <EmptyState title="Nothing is compared yet.">
          <Link className="link" href={compareHref(params, {})}>
            Choose a baseline and at least one setup
          </Link>{' '}
          to hold against it.
        </EmptyState>
      </>
    );
  }
  const figures = [
    differencesFigure(view, baseline, display),
    ...view.differences
      .slice(0, 1)
      .filter(({ pairs }) => pairs.total > 0)
      .map((difference) => pairsFigure(view, baseline, difference, display)),
    sidesFigure(view, baseline, display),
  ];
  return (
    <>
      <PageHeader
        title="Publish this comparison"
        lead={comparedWords(view, baseline)}
        meta={`At ${view.classLabel}`}
        breadcrumbs={breadcrumbs}
      />
      {view.group.world === 'demo' ? <DemoMark /> : null}
      {view.fit?.converged ? null : <NotConverged />}
      <IntervalWarning
        classKey={view.group.cruiseClassKey}
        classLabel={view.classLabel}
        world={view.group.world}
        faults={view.fit?.faults ?? null}
      />
      <PackWords
        text={compareVideoText(view, baseline, display)}
        citation={citationOfComparison(
          view,
          baseline,
          display,
          await snapshotToCite(registry(), view.group.world),
        )}
      />
      <PackEmbed found={[{ ...comparisonEmbed(view, baseline, display), name: 'this comparison' }]} />
      <PackFigures figures={figures} />
      <SafetyCaution kind="study" />
    </>
  );
}
