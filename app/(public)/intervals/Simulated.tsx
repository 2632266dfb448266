import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import { SIMULATED_COVERAGE } from '@/lib/stats/holds/simulatedCoverage';
import { SIMULATED_KINDS } from '@/lib/stats/holds/simulatedKinds';
import type { Display } from '@/lib/units/display';
import { layoutText, sharePercent } from './words';

/** What predicted runs cannot show, from worlds whose truth is known. */
export function Simulated({
  methodVersion,
  display,
}: {
  methodVersion: string | undefined;
  display: Display;
}) {
  const { on, command, methodVersion: madeFor, rows } = SIMULATED_COVERAGE;
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
      <DataTable
        caption="How often 95 % intervals held in simulated worlds"
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
        footnote="± is one standard error from the number of worlds."
      />
    </Section>
  );
}
