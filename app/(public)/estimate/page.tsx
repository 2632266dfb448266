import type { Metadata } from 'next';
import { cache } from 'react';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { type EstimateView, readEstimate } from '@/lib/registry/estimates/readEstimate';
import type { Display } from '@/lib/units/display';
import { ownUnitHref, type SearchParams } from '../rankings/query';
import { AnswerOfEstimate } from './AnswerOfEstimate';
import { EstimateForm } from './EstimateForm';
import { estimateParams, estimateQuery, shownForm } from './estimateQuery';
import { estimateOfFigure } from './estimateSource';
import { Refused } from './Refused';
import { askedWords, NO_NUMBER_WORDS } from './words';

export const dynamic = 'force-dynamic';

interface EstimatePageProps {
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page, which are each given an object of their own. */
const estimateAt = cache(async (address: string) => {
  const params: SearchParams = JSON.parse(address);
  const display = await readerDisplay(params);
  const query = estimateQuery(params, display);
  return { params, display, query, view: await readEstimate(registry(), query) };
});

const estimateOf = async ({ searchParams }: EstimatePageProps) =>
  estimateAt(JSON.stringify(await searchParams));

export async function generateMetadata(props: EstimatePageProps): Promise<Metadata> {
  const { view, params } = await estimateOf(props);
  const { setup: _setup, ...query } = estimateParams(params);
  return pageMetadata('estimate', {
    title: view.setup === undefined ? 'What would mine do?' : `What would mine do? ${view.setup.title}`,
    path: '/estimate',
    ...(view.setup !== undefined && view.outcome.kind === 'answered'
      ? { figure: { kind: 'estimate-range', key: view.setup.slug, query } }
      : {}),
  });
}

const LEAD =
  'Range, time with charging stops and cost of your own trip, worked out from measured runs. Whatever is assumed is listed.';

export default async function EstimatePage(props: EstimatePageProps) {
  const { params, display, query, view } = await estimateOf(props);
  const figure = estimateOfFigure(view, params);
  const { setup, outcome, speedMps } = view;
  return (
    <>
      <PageHeader
        title="What would mine do?"
        lead={setup === undefined ? LEAD : undefined}
        meta={
          setup === undefined ? undefined : (
            <Link className="link" href={`/setups/${setup.slug}`}>
              {setup.model}: {setup.title}
            </Link>
          )
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {figure === undefined ? (
        <NoAnswer view={view} params={params} display={display} />
      ) : (
        <AnswerOfEstimate of={figure} display={display} part="answer" />
      )}
      {view.world === undefined ? null : (
        <EstimateForm
          view={view}
          params={params}
          values={shownForm(query.form, speedMps, display)}
          asked={
            outcome.kind === 'answered' && speedMps !== undefined
              ? askedWords(outcome.asked, speedMps, display)
              : ''
          }
        />
      )}
      {figure === undefined ? null : (
        <>
          <SafetyCaution kind="estimate" />
          <UnitNote unit={display.consumption} ownHref={ownUnitHref('/estimate', params)} />
          <AnswerOfEstimate of={figure} display={display} part="evidence" />
        </>
      )}
    </>
  );
}

function NoAnswer({ view, params, display }: { view: EstimateView; params: SearchParams; display: Display }) {
  const { outcome, setup, world, isUnknown } = view;
  if (world === undefined) {
    return (
      <EmptyState title="There is nothing to estimate from yet.">
        An estimate starts from approved runs of a setup by several cars.
      </EmptyState>
    );
  }
  if (isUnknown) return <Notice kind="info" title="No setup has this address. Choose one below." />;
  if (outcome.kind === 'refused') return <Refused refused={outcome} params={params} display={display} />;
  if (outcome.kind !== 'noNumber' || setup === undefined) return null;
  const { title, why } = NO_NUMBER_WORDS[outcome.why];
  return (
    <EmptyState
      title={title}
      action={
        <>
          <Link className="link" href={`/setups/${setup.slug}`}>
            What was driven of it
          </Link>
          <Link className="link" href={`/models/${setup.modelSlug}`}>
            Other setups of the model
          </Link>
        </>
      }
    >
      {why}
    </EmptyState>
  );
}
