import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { consumptionNumber, fittedNumber, intervalText } from '@/app/(public)/consumptionText';
import { caveatsOf } from '@/app/(public)/estimateCaveats';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { againstText } from '@/app/(public)/rankings/rankingRows';
import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { PageHeader } from '@/app/ui/PageHeader';
import { PLUS_MINUS } from '@/app/ui/plusMinus';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { Day } from '@/app/ui/When';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { resultText } from '@/lib/answers/answer';
import { placeText } from '@/lib/answers/placeText';
import { readOtherSetup } from '@/lib/registry/otherRegistries/otherSetup';
import { factorLabel } from '@/lib/run/factors';
import { unitSymbol } from '@/lib/units/unit';
import { OtherStrip } from '../../../OtherStrip';
import { NOT_INDEXED, otherHref, otherWorld } from '../../../otherHref';
import { resultNumber } from '../../resultNumber';

export const metadata: Metadata = { title: 'A setup of another registry', ...NOT_INDEXED };
export const dynamic = 'force-dynamic';

interface OtherSetupProps {
  params: Promise<{ key: string; setupId: string }>;
  searchParams: Promise<SearchParams>;
}

export default async function OtherSetupPage({ params, searchParams }: OtherSetupProps) {
  const [{ key, setupId }, query] = await Promise.all([params, searchParams]);
  const world = otherWorld(key);
  const [view, display] = await Promise.all([
    readOtherSetup(registry(), { world, setupId, from: one(query, 'from') }),
    readerDisplay(query),
  ]);
  if (view === undefined) notFound();
  const { source, title, model, levels, classes, runs } = view;
  const symbol = unitSymbol(display.consumption);
  const path = otherHref(world, 'setups', setupId);
  return (
    <>
      <PageHeader
        title={title}
        meta={model}
        breadcrumbs={[{ href: otherHref(world), label: source.name }, { label: title }]}
      />
      <OtherStrip source={source} />
      <UnitNote unit={display.consumption} />
      <Section title="What their runs say" id="estimates" wide>
        <DataTable
          caption="By class"
          captionHidden
          rows={classes}
          rowKey={(row) => row.key}
          empty="None of its runs counts there."
          columns={[
            {
              key: 'class',
              header: 'Class',
              rowHeader: true,
              cell: (row) => (
                <Link
                  className="link"
                  href={hrefWith('/rankings', {}, { class: row.key, world: source.world })}
                >
                  {row.label}
                </Link>
              ),
            },
            {
              key: 'value',
              header: 'Estimate',
              unit: symbol,
              align: 'end',
              answer: true,
              cell: ({ setup }) => fittedNumber(setup, display),
            },
            {
              key: 'interval',
              header: '95 % interval',
              unit: symbol,
              align: 'end',
              cell: ({ setup }) => intervalText(setup, display),
            },
            {
              key: 'against',
              header: 'Against the car as delivered',
              cell: ({ setup }) => againstText(setup, display),
            },
            {
              key: 'word',
              header: 'Result',
              wide: true,
              cell: ({ setup: { against } }) =>
                against === null ? '–' : (against.refusal ?? resultText(against)),
            },
            {
              key: 'rank',
              header: 'Place',
              cell: ({ setup, rankedOf }) => placeText(setup, rankedOf) ?? '–',
            },
            {
              key: 'counts',
              header: 'Rests on',
              cell: ({ setup }) => [countText(setup), ...caveatsOf(setup.label)].join('; '),
            },
          ]}
        />
      </Section>
      {levels.length === 0 ? null : (
        <Section title="What it changes" id="levels">
          <DefinitionList
            items={levels.map(({ factor, levelId, isBaseline, shared }) => ({
              term: factorLabel(factor),
              description: isBaseline ? 'as delivered' : (shared ?? `level ${levelId}`),
            }))}
          />
        </Section>
      )}
      <Section
        title="Its runs"
        id="runs"
        note="Each was computed again here from its readings, which stay in their snapshot."
        wide
      >
        <DataTable
          caption={`${runs.total} ${runs.total === 1 ? 'run' : 'runs'}`}
          rows={runs.rows}
          rowKey={({ number }) => String(number)}
          footnote={PLUS_MINUS}
          columns={[
            {
              key: 'run',
              header: 'Run',
              rowHeader: true,
              cell: ({ number }) => (
                <Link className="link whitespace-nowrap" href={otherHref(world, 'runs', number)}>
                  Run {number}
                </Link>
              ),
            },
            { key: 'date', header: 'Date', cell: ({ localDate }) => <Day of={localDate} /> },
            { key: 'class', header: 'Class', cell: ({ classLabel }) => classLabel },
            {
              key: 'measured',
              header: 'As measured',
              unit: symbol,
              align: 'end',
              cell: ({ result }) =>
                typeof result?.measured_wh_per_km === 'number'
                  ? consumptionNumber(result.measured_wh_per_km, display)
                  : '–',
            },
            {
              key: 'normalised',
              header: 'At reference conditions',
              unit: symbol,
              align: 'end',
              answer: true,
              cell: ({ result }) => resultNumber(result, display),
            },
            { key: 'counts', header: 'Counts there', cell: ({ counts }) => (counts ? 'yes' : 'no') },
          ]}
        />
        <KeysetPages
          previous={runs.previous}
          next={runs.next}
          label="Pages of runs"
          hrefFor={(from) => `${hrefWith(path, query, { from })}#runs`}
        />
      </Section>
    </>
  );
}
