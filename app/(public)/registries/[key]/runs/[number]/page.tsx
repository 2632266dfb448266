import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { one, type SearchParams } from '@/app/(public)/rankings/query';
import { runNumber } from '@/app/runDossier/runNumber';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { Day } from '@/app/ui/When';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import type { Row } from '@/lib/openData/column';
import { otherDay } from '@/lib/openData/other/names';
import { type OtherRunView, readOtherRun } from '@/lib/registry/otherRegistries/otherRun';
import type { Display } from '@/lib/units/display';
import { showInterval, showQuantity, showWithUncertainty } from '@/lib/units/show';
import { unitSymbol } from '@/lib/units/unit';
import { OtherStrip } from '../../../OtherStrip';
import { NOT_INDEXED, otherHref, otherWorld } from '../../../otherHref';
import { resultNumber } from '../../resultNumber';

export const metadata: Metadata = { title: 'A run of another registry', ...NOT_INDEXED };
export const dynamic = 'force-dynamic';

interface OtherRunProps {
  params: Promise<{ key: string; number: string }>;
  searchParams: Promise<SearchParams>;
}

export default async function OtherRunPage({ params, searchParams }: OtherRunProps) {
  const [{ key, number: asked }, query] = await Promise.all([params, searchParams]);
  const number = runNumber(asked);
  if (number === undefined) notFound();
  const world = otherWorld(key);
  const [view, display] = await Promise.all([
    readOtherRun(registry(), { world, number }),
    readerDisplay(query),
  ]);
  if (view === undefined) notFound();
  const { source } = view;
  return (
    <>
      <PageHeader
        title={`Run ${number} of ${source.name}`}
        meta={<Day of={otherDay(view.run)} />}
        breadcrumbs={[
          { href: otherHref(world), label: source.name },
          { href: otherHref(world, 'setups', view.setupId), label: view.setup },
          { label: `Run ${number}` },
        ]}
      />
      <OtherStrip source={source} />
      <UnitNote
        unit={display.consumption}
        {...(one(query, 'unit') && { ownHref: otherHref(world, 'runs', number) })}
      />
      <Section title="Its result" id="result" note={PLUS_MINUS}>
        <DefinitionList items={resultItems(view.result, display)} />
      </Section>
      <Section
        title="What was driven"
        id="run"
        note="Readings, conditions and photos stay with the registry that has the run."
      >
        <DefinitionList items={runItems(view, display)} />
        <p className="mt-4 text-sm">
          <a className="link" href={`${source.origin}/runs/${number}`} rel="noreferrer nofollow">
            This run at {source.name}
          </a>
        </p>
      </Section>
    </>
  );
}

function resultItems(result: Row | undefined, display: Display) {
  if (result === undefined) return [{ term: 'Result', description: 'none was published' }];
  const symbol = unitSymbol(display.consumption);
  const number = (name: string) => (typeof result[name] === 'number' ? result[name] : undefined);
  const [low, high] = [number('low_wh_per_km'), number('high_wh_per_km')];
  const [measured, u] = [number('measured_wh_per_km'), number('u_measured_wh_per_km')];
  const isNormalised = result.is_normalised === true;
  return [
    {
      term: 'At reference conditions',
      description: isNormalised
        ? `${resultNumber(result, display)} ${symbol}`
        : resultNumber(result, display),
    },
    ...(low === undefined || high === undefined
      ? []
      : [{ term: '95 % interval', description: showInterval(low, high, 'consumption', display) }]),
    ...(measured === undefined || u === undefined
      ? []
      : [{ term: 'As measured', description: showWithUncertainty(measured, u, 'consumption', display) }]),
    { term: 'Method', description: String(result.method_version) },
  ];
}

function runItems(
  { source, setupId, setup, model, tester, classLabel, run, loop }: OtherRunView,
  display: Display,
) {
  return [
    { term: 'Model', description: model },
    {
      term: 'Setup',
      description: (
        <Link className="link" href={otherHref(source.world, 'setups', setupId)}>
          {setup}
        </Link>
      ),
    },
    { term: 'Class', description: classLabel },
    ...(typeof loop?.length_m === 'number'
      ? [{ term: 'Loop', description: `${showQuantity(loop.length_m, 'distance', display)} there and back` }]
      : []),
    { term: 'Driven by', description: tester },
    { term: 'Protocol', description: String(run.protocol_version) },
    {
      term: 'Counts there',
      description: run.counts === true ? 'yes' : `no (${run.status})`,
    },
  ];
}
