import { DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Section } from '@/app/ui/Section';
import { SIMULATED_COVERAGE } from '@/lib/stats/holds/simulatedCoverage';
import { SIMULATED_KINDS } from '@/lib/stats/holds/simulatedKinds';
import type { Display } from '@/lib/units/display';
import { showFactor } from '@/lib/units/show';
import { layoutText, sharePercent, simulatedText } from './words';

const SCOPE_WORDS = {
  run: 'nothing: a run’s own',
  session: 'the runs of one day',
  car: 'the runs of one car',
  model: 'all runs of a model',
  method: 'all runs',
} as const;

/** What predicted runs cannot show, from worlds whose truth is known. */
export function Simulated({
  methodVersion,
  display,
}: {
  methodVersion: string | undefined;
  display: Display;
}) {
  const { on, command, methodVersion: madeFor, bites, scopes, rows } = SIMULATED_COVERAGE;
  return (
    <Section
      id="simulated"
      title="What runs cannot show"
      note={`Simulated on ${on} by “${command}”, for method ${madeFor}.`}
      wide
    >
      <p className="max-w-[46rem]">
        Runs that come after a prediction test what it says of runs and days. The true consumption of a model
        is never seen, so whether intervals across models hold has to be shown in worlds whose truth is known:
        they are drawn, measured, fitted as here, and counted.
        {methodVersion === undefined || methodVersion === madeFor
          ? ''
          : ` This class is fitted by method ${methodVersion}, the table was made for ${madeFor}.`}
      </p>
      <p className="mt-4 max-w-[46rem]">{simulatedText(rows, display)}</p>
      <p className="mt-4 max-w-[46rem] text-sm">
        A class that still borrows how its runs scatter is drawn about what is assumed, and its intervals are
        wanted to hold in 93 to 97 % of cases, as those of the young registries are.{' '}
        {bites
          ? 'As a test of this test, errors were made half as large again as stated: it noticed.'
          : 'As a test of this test, errors were made half as large again as stated: it did not notice, for want of worlds.'}
      </p>
      <DataTable
        caption="Errors of single runs against their stated uncertainty, by what shares them"
        rows={scopes}
        rowKey={({ scope }) => scope}
        columns={[
          { key: 'scope', header: 'Shared by', rowHeader: true, cell: ({ scope }) => SCOPE_WORDS[scope] },
          {
            key: 'ratio',
            header: 'Error, as a multiple of what is stated',
            align: 'end',
            cell: ({ ratio, standardError }) =>
              `${showFactor(ratio, display)} ± ${showFactor(standardError, display)}`,
          },
          {
            key: 'band',
            header: 'Wanted',
            align: 'end',
            cell: ({ band: [low, high] }) => `${showFactor(low, display)} to ${showFactor(high, display)}`,
          },
        ]}
        footnote="Over all runs of whole simulated worlds. The number after ± says how far off one may be by the luck of so few worlds: in about two cases of three it is closer."
      />
      <Disclosure
        title={`All ${rows.length} counts`}
        says="Each line is one kind of interval in one kind of simulated world: how often it held the truth, and how often it should have."
      >
        <DataTable
          caption="How often 95 % intervals held in simulated worlds"
          captionHidden
          rows={rows}
          rowKey={({ group, layout, kind }) => `${group} ${layout} ${kind}`}
          columns={[
            { key: 'layout', header: 'Simulated', rowHeader: true, cell: layoutText },
            { key: 'kind', header: 'Intervals of', cell: ({ kind }) => SIMULATED_KINDS[kind] },
            {
              key: 'share',
              header: 'Held',
              unit: '%',
              align: 'end',
              cell: ({ share, standardError }) =>
                `${sharePercent(share, display)} ± ${sharePercent(standardError, display)}`,
            },
            {
              key: 'target',
              header: 'Wanted',
              unit: '%',
              align: 'end',
              cell: ({ target: [low, high] }) =>
                `${sharePercent(low, display)} to ${sharePercent(high, display)}`,
            },
            { key: 'worlds', header: 'Worlds', align: 'end', cell: ({ worlds }) => worlds },
          ]}
          footnote="The number after ± says how far off a share may be with so many worlds: in about two cases of three it is closer."
        />
      </Disclosure>
    </Section>
  );
}
