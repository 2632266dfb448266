import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { IntervalPlot } from '@/app/ui/figures/IntervalPlot';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { formatNumber } from '@/lib/units/format';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import { intervalText } from '../consumptionText';
import { decimalsOf } from '../rankings/rankingRows';
import { signedText } from './words';

interface BothSidesProps {
  view: CompareView;
  baseline: ComparedSetup;
  unit: UnitCode;
}

/** The two sides by themselves, and what the plain means as measured would have said. */
export function BothSides({ view, baseline, unit }: BothSidesProps) {
  const shown = (whPerKm: number) => fromCanonical(whPerKm, unit);
  const rows = [baseline, ...view.others].map((setup) => {
    const { lowWhPerKm: low, highWhPerKm: high } = setup;
    const isDrawn = low !== null && high !== null && setup.intervalKind !== 'expectedVariation';
    const ends = !isDrawn ? [] : [shown(low), shown(high)].sort((a, b) => a - b);
    return {
      key: setup.setupId,
      label: setup.title,
      href: `/setups/${setup.slug}`,
      detail: setup.model,
      estimate: shown(setup.estimateWhPerKm),
      ...(ends.length === 2 ? { low: ends[0], high: ends[1] } : {}),
      text: formatNumber(shown(setup.estimateWhPerKm), decimalsOf(unit)),
      intervalText: intervalText(setup, unit),
      counts: countText(setup),
      before: {
        value: shown(setup.rawMeanWhPerKm),
        text: `as measured ${formatNumber(shown(setup.rawMeanWhPerKm), decimalsOf(unit))}`,
      },
    };
  });
  return (
    <Section
      id="sides"
      title="Each side by itself"
      note="The fitted consumption at reference conditions, and the plain mean of what was measured in whatever weather the runs had. Whether two setups differ is read above, not from the overlap of these bars."
      wide
    >
      <IntervalPlot
        label="Consumption of the compared setups"
        rows={rows}
        unit={unitSymbol(unit)}
        ordered={false}
        beforeLabel="mean as measured"
      />
      <div className="mt-6">
        <DataTable
          caption="What raw numbers would have said"
          rows={view.differences}
          rowKey={(difference) => difference.setup.setupId}
          columns={[
            { key: 'setup', header: 'Setup', rowHeader: true, cell: ({ setup }) => setup.name },
            {
              key: 'raw',
              header: 'Means as measured',
              unit: '%',
              align: 'end',
              cell: ({ rawPercent }) => signedText(rawPercent),
            },
            {
              key: 'normalised',
              header: 'Normalised and fitted',
              unit: '%',
              align: 'end',
              cell: ({ percent }) => (percent === null ? 'not compared' : signedText(percent)),
            },
            {
              key: 'gap',
              header: 'Raw less fitted',
              unit: 'points',
              align: 'end',
              cell: ({ rawPercent, percent }) =>
                percent === null ? '–' : formatNumber(rawPercent - percent, 1, { signed: true }),
            },
          ]}
          footnote="Raw means carry the weather, the loop and the car of the days on which each setup happened to be driven, and have no interval."
        />
      </div>
    </Section>
  );
}
