import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { ClassTabs } from '@/app/ui/ClassTabs';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { type FactorView, readFactor, WANTED } from '@/lib/registry/factors/factors';
import { readSpeedsOfWorld } from '@/lib/registry/factors/speeds';
import { factorLabel, isFactorKey } from '@/lib/run/factors';
import type { Display } from '@/lib/units/display';
import { IntervalWarning } from '../../IntervalWarning';
import { NotConverged } from '../../NotConverged';
import { hrefWith, one, ownUnitHref, type SearchParams } from '../../rankings/query';
import { factorsHref } from '../factorsSource';
import { NothingYet } from '../NothingYet';
import { CRUISE_SPEED, questionOf, SPEED_QUESTION } from '../words';
import { Effect } from './Effect';
import { Singly } from './Singly';
import { SpeedStep } from './Speeds';

export const dynamic = 'force-dynamic';

interface FactorPageProps {
  params: Promise<{ key: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const factorOf = cache((key: string, classKey: string | undefined, world: string | undefined) =>
  readFactor(registry(), key, { classKey, world }),
);

async function viewOf({ params, searchParams }: FactorPageProps) {
  const query = await searchParams;
  return factorOf((await params).key, one(query, 'class'), one(query, 'world'));
}

export async function generateMetadata(props: FactorPageProps): Promise<Metadata> {
  const { key } = await props.params;
  if (key === CRUISE_SPEED)
    return pageMetadata('factors', { title: SPEED_QUESTION, path: `/factors/${key}` });
  if (!isFactorKey(key)) return { title: 'Factor not found' };
  const view = await viewOf(props);
  const [effect] = view?.effects ?? [];
  return pageMetadata('factors', {
    title: questionOf(key),
    path: hrefWith(`/factors/${key}`, await props.searchParams, {}),
    ...(view === undefined || effect === undefined
      ? {}
      : {
          figure: {
            kind: 'factor',
            key,
            query: { class: view.group.cruiseClassKey, world: view.group.world, level: effect.levelId },
          },
        }),
  });
}

const CRUMBS = [{ href: '/factors', label: 'Factors' }];

export default async function FactorPage(props: FactorPageProps) {
  const { key } = await props.params;
  const query = await props.searchParams;
  const display = await readerDisplay(query);
  if (key === CRUISE_SPEED) return <SpeedPage query={query} display={display} />;
  if (!isFactorKey(key)) notFound();
  const view = await viewOf(props);
  return (
    <>
      <PageHeader
        title={questionOf(key)}
        breadcrumbs={[...CRUMBS, { label: factorLabel(key) }]}
        meta={view === undefined ? undefined : `At a steady ${view.classLabel}`}
      />
      {view === undefined ? <NothingYet /> : <OfClass view={view} query={query} display={display} />}
    </>
  );
}

function OfClass({ view, query, display }: { view: FactorView; query: SearchParams; display: Display }) {
  const { group, classLabel, fit } = view;
  const path = `/factors/${view.key}`;
  return (
    <>
      {group.world === 'demo' ? <DemoMark /> : null}
      <ClassTabs
        classes={view.classes}
        current={group.cruiseClassKey}
        hrefOf={(key) => hrefWith(path, query, { class: key })}
      />
      {fit === null || fit.converged ? null : <NotConverged />}
      <IntervalWarning
        classKey={group.cruiseClassKey}
        classLabel={classLabel}
        world={group.world}
        faults={fit?.faults ?? null}
      />
      {view.effects.length === 0 ? <NoEffect view={view} /> : null}
      <Singly view={view} display={display} />
      {view.effects.map((effect) => (
        <Effect key={effect.levelId} view={view} effect={effect} display={display} />
      ))}
      {view.effects.length > 0 ? <Plan view={view} /> : null}
      <UnitNote unit={display.consumption} ownHref={ownUnitHref(path, query)} />
    </>
  );
}

function NoEffect({ view: { isDue, levels, singly, classLabel, fit, group } }: { view: FactorView }) {
  if (isDue) {
    return (
      <EmptyState title={`The answer at ${classLabel} is being computed.`}>
        New runs were approved a moment ago. Look again in a minute.
      </EmptyState>
    );
  }
  if (levels.length < 2) {
    return (
      <EmptyState title="Models cannot be put side by side here yet.">
        Testers name settings in each car’s own words, and a steward joins the names that mean the same.{' '}
        {singly.length > 0 ? (
          'Until then each model stands by itself, below.'
        ) : (
          <Link className="link" href="/models">
            What single models say of other changes
          </Link>
        )}
      </EmptyState>
    );
  }
  return (
    <EmptyState title={`No answer across models at ${classLabel}.`}>
      {fit === null ? 'Nothing was driven at this speed yet.' : 'No car was driven at two of'}{' '}
      {fit === null ? null : `these levels at this speed: ${levels.join(', ')}. `}
      <Link className="link" href={factorsHref('', { class: group.cruiseClassKey, world: group.world })}>
        What else was found at {classLabel}
      </Link>
    </EmptyState>
  );
}

/** What it takes from nothing, by the class's own variation. */
function Plan({ view: { separation, classLabel } }: { view: FactorView }) {
  const [plan] = separation?.plans ?? [];
  return (
    <Section
      id="settle"
      title="What it takes in another model"
      note="Starting from scratch, if cars, days and runs vary as they do in this class."
    >
      <p className="max-w-[46rem]">
        {plan === undefined
          ? (separation?.cannotPlan ??
            `To find ${WANTED.percent} % at ${classLabel} would take more than 100 sessions.`)
          : `To find a difference of ${WANTED.percent} % in one model at ${classLabel} with a chance of ${100 * WANTED.power} %: ${plan.runsPerSetup} runs of each in ${plan.blocks} ${plan.blockWord}, ${plan.way}.`}{' '}
        With three models a number is worked out for all of them; with five, also what to expect of one more.
      </p>
    </Section>
  );
}

async function SpeedPage({ query, display }: { query: SearchParams; display: Display }) {
  const view = await readSpeedsOfWorld(registry(), one(query, 'world'));
  return (
    <>
      <PageHeader
        title={SPEED_QUESTION}
        breadcrumbs={[...CRUMBS, { label: 'Cruise speed' }]}
        lead="From cars that drove one setup at both speeds, each brought to reference conditions."
      />
      {view?.world === 'demo' ? <DemoMark /> : null}
      {view === undefined || view.steps.length === 0 ? (
        <EmptyState title="Nothing can be answered yet.">
          An answer takes three cars of a model, each driven in one setup at two speeds that lie 10 km/h or
          more apart.
        </EmptyState>
      ) : (
        view.steps.map((step) => (
          <SpeedStep
            key={`${step.slow.key} ${step.fast.key}`}
            step={step}
            of={{ world: view.world, asOf: view.computedAt }}
            display={display}
          />
        ))
      )}
      <UnitNote unit={display.consumption} ownHref={ownUnitHref(`/factors/${CRUISE_SPEED}`, query)} />
    </>
  );
}
