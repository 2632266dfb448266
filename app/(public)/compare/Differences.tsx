import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { differencesFigure } from './differencesFigure';
import { verdict } from './words';

interface DifferencesProps {
  view: CompareView;
  baseline: ComparedSetup;
}

/** Each setup against the baseline, with what joins the pair and what the interval leaves open. */
export function Differences({ view, baseline }: DifferencesProps) {
  return (
    <Section
      id="differences"
      title="Difference in consumption"
      note={`Against “${baseline.name}”, from the fit of all ${view.fit?.runCount ?? 0} runs of the class. Below zero is less.`}
      wide
    >
      <ul className="max-w-[46rem] space-y-3">
        {view.differences.map((difference) => (
          <li key={difference.setup.setupId}>
            {verdict(difference, baseline.name)}{' '}
            <span className="block text-sm text-ink-soft">Joined by: {difference.connection}.</span>
          </li>
        ))}
      </ul>
      <Figure figure={differencesFigure(view, baseline)} />
    </Section>
  );
}
