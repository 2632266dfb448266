import { DataTable } from '@/app/ui/DataTable';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import { differencePlace, signedText } from '@/lib/answers/differenceText';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';
import { sidesFigure } from './sidesFigure';

interface BothSidesProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** The two sides by themselves, and what the plain means as measured would have said. */
export function BothSides({ view, baseline, display }: BothSidesProps) {
  return (
    <Section
      id="sides"
      title="Each side by itself"
      note="What each uses at reference conditions, and the plain mean of what was measured in whatever weather its runs had. Whether two setups differ is said above; whether these bars overlap does not tell."
      wide
    >
      <Figure figure={sidesFigure(view, baseline, display)} />
      <div className="mt-6">
        <DataTable
          caption="What plain means would have said"
          rows={view.differences}
          rowKey={(difference) => difference.setup.setupId}
          columns={[
            { key: 'setup', header: 'Setup', rowHeader: true, cell: ({ setup }) => setup.name },
            {
              key: 'raw',
              header: 'By plain means',
              unit: '%',
              align: 'end',
              cell: (difference) =>
                signedText(difference.rawPercent, display, differencePlace(difference, display)),
            },
            {
              key: 'normalised',
              header: 'At reference conditions',
              unit: '%',
              align: 'end',
              cell: (difference) =>
                difference.percent === null
                  ? 'not compared'
                  : signedText(difference.percent, display, differencePlace(difference, display)),
            },
            {
              key: 'gap',
              header: 'Plain means off by',
              unit: 'points',
              align: 'end',
              cell: (difference) => gapText(difference, display),
            },
          ]}
          footnote="Plain means mix in the weather, the loop and the car of the days on which a setup happened to be driven. They have no interval."
        />
      </div>
    </Section>
  );
}

/** By how much the plain means would have been off, in points of per cent. */
function gapText(difference: SetupDifference, display: Display): string {
  const { percent, rawPercent } = difference;
  if (percent === null) return '–';
  const gap = percentIn(display.consumption, rawPercent) - percentIn(display.consumption, percent);
  return showNumber(gap, differencePlace(difference, display), display, { signed: true });
}
