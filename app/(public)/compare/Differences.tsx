import { countText } from '@/app/ui/countText';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { differencesFigure } from './differencesFigure';
import { verdict } from './words';

interface DifferencesProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** Each setup against the baseline, with what joins the pair and what the interval leaves open. */
export function Differences({ view, baseline, display }: DifferencesProps) {
  const sense = senseOf(display.consumption);
  return (
    <Section
      id="differences"
      title={`Difference in ${sense.quantity}`}
      note={`Against “${baseline.name}”, from the fit of the class’s ${countText({ runs: view.fit?.runCount ?? 0 })}. ${sense.isHigherBetter ? 'Above zero is further' : 'Below zero is less'}.`}
      wide
    >
      <ul className="max-w-[46rem] space-y-3">
        {view.differences.map((difference) => (
          <li key={difference.setup.setupId}>
            {verdict(difference, baseline.name, display)}{' '}
            <span className="block text-sm text-ink-soft">Joined by: {difference.connection}.</span>
          </li>
        ))}
      </ul>
      <Figure figure={differencesFigure(view, baseline, display)} />
    </Section>
  );
}
