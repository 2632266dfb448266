import { DataTable } from '@/app/ui/DataTable';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { formatNumber } from '@/lib/units/format';
import type { UnitCode } from '@/lib/units/unit';
import { sidesFigure } from './sidesFigure';
import { signedText } from './words';

interface BothSidesProps {
  view: CompareView;
  baseline: ComparedSetup;
  unit: UnitCode;
}

/** The two sides by themselves, and what the plain means as measured would have said. */
export function BothSides({ view, baseline, unit }: BothSidesProps) {
  return (
    <Section
      id="sides"
      title="Each side by itself"
      note="The fitted consumption at reference conditions, and the plain mean of what was measured in whatever weather the runs had. Whether two setups differ is read above, not from the overlap of these bars."
      wide
    >
      <Figure figure={sidesFigure(view, baseline, unit)} />
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
