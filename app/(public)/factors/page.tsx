import type { Metadata } from 'next';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { wordsOfPage } from '@/app/ui/pageWords';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { type FactorsView, readFactors } from '@/lib/registry/factors/factors';
import type { Display } from '@/lib/units/display';
import { IntervalWarning } from '../IntervalWarning';
import { NotConverged } from '../NotConverged';
import { hrefWith, one, ownUnitHref, type SearchParams } from '../rankings/query';
import { Computed } from './Computed';
import { factorsFigure } from './effectFigure';
import { FactorLine, SpeedLine } from './FactorLine';
import { factorsHref } from './factorsSource';
import { NothingYet } from './NothingYet';
import { SurestAnswer } from './SurestAnswer';
import { CRUISE_SPEED, questionOf } from './words';

export const dynamic = 'force-dynamic';

interface FactorsPageProps {
  searchParams: Promise<SearchParams>;
}

const TITLE = wordsOfPage('factors').title;
const LEAD =
  'One thing changed, everything else the same: what it did, how sure that is, and in how many models.';

export async function generateMetadata({ searchParams }: FactorsPageProps): Promise<Metadata> {
  const params = await searchParams;
  const classKey = one(params, 'class');
  return pageMetadata('factors', {
    title: TITLE,
    path: hrefWith('/factors', params, {}),
    ...(classKey === undefined
      ? {}
      : { figure: { kind: 'factors', key: classKey, query: { world: one(params, 'world') } } }),
  });
}

export default async function FactorsPage({ searchParams }: FactorsPageProps) {
  const params = await searchParams;
  const display = await readerDisplay(params);
  const view = await readFactors(registry(), {
    classKey: one(params, 'class'),
    world: one(params, 'world'),
  });
  return (
    <>
      <PageHeader title={TITLE} lead={LEAD} />
      {view === undefined ? <NothingYet /> : <ClassFactors view={view} params={params} display={display} />}
    </>
  );
}

function ClassFactors({
  view,
  params,
  display,
}: {
  view: FactorsView;
  params: SearchParams;
  display: Display;
}) {
  const { group, classLabel, fit } = view;
  const hrefOf = (key: string) => factorsHref(key, { class: group.cruiseClassKey, world: group.world });
  const figure = factorsFigure(view, display);
  const open = view.factors.filter(({ effects }) => effects.length === 0);
  const steps = (view.speeds?.steps ?? []).filter(({ slow, fast }) =>
    [slow.key, fast.key].includes(group.cruiseClassKey),
  );
  return (
    <>
      {group.world === 'demo' ? <DemoMark /> : null}
      <ClassTabs
        classes={view.classes}
        current={group.cruiseClassKey}
        hrefOf={(key) => hrefWith('/factors', params, { class: key })}
      />
      {fit === null || fit.converged ? null : <NotConverged />}
      <IntervalWarning
        classKey={group.cruiseClassKey}
        classLabel={classLabel}
        world={group.world}
        faults={fit?.faults ?? null}
      />
      {view.isDue ? (
        <EmptyState title={`The answers at ${classLabel} are being computed.`}>
          New runs were approved a moment ago. Look again in a minute.
        </EmptyState>
      ) : null}
      <SurestAnswer factors={view.factors} classLabel={classLabel} display={display} />
      {figure ? <Figure figure={figure} id="changes" /> : null}
      <UnitNote unit={display.consumption} ownHref={ownUnitHref('/factors', params)} />
      {view.factors
        .filter(({ effects }) => effects.length > 0)
        .map((factor) => (
          <FactorLine key={factor.key} factor={factor} href={hrefOf(factor.key)} display={display} />
        ))}
      <SpeedLine steps={steps} href={factorsHref(CRUISE_SPEED, { world: group.world })} display={display} />
      <Computed classLabel={classLabel} speedMps={view.speedMps} display={display} />
      {open.length > 0 && !view.isDue ? (
        <Section id="open" title={`Not answered across models yet at ${classLabel}`}>
          <ul className="max-w-[46rem] space-y-2">
            {open.map(({ key, isMapped }) => (
              <li key={key}>
                <Link className="link font-semibold" href={hrefOf(key)}>
                  {questionOf(key)}
                </Link>{' '}
                {isMapped
                  ? 'No car was driven at both levels at this speed.'
                  : 'Testers name these differently in each model, so models cannot be put together yet. The page shows each model by itself.'}
              </li>
            ))}
          </ul>
        </Section>
      ) : null}
    </>
  );
}
