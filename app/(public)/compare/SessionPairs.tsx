import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { pairsFigure } from './pairsFigure';

interface SessionPairsProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** The sessions in which both were driven: the strongest evidence, shown one by one. */
export function SessionPairs({ view, baseline, display }: SessionPairsProps) {
  const paired = view.differences.filter((difference) => difference.pairs.total > 0);
  const without = view.differences.filter((difference) => difference.pairs.total === 0);
  return (
    <Section
      id="pairs"
      title="Driven in the same session"
      note="Both ends of a line share the car, the loop, the day and the weather, so none of these can explain its length."
      wide
    >
      {paired.map((difference) => (
        <div key={difference.setup.setupId}>
          <h3 className="mt-6">{difference.setup.name}</h3>
          <Figure figure={pairsFigure(view, baseline, difference, display)} />
        </div>
      ))}
      {without.length === 0 ? null : (
        <p className="max-w-[46rem] text-sm text-ink-soft">
          Never in one session with the baseline:{' '}
          {without.map(({ setup }) => setupInText(setup.name)).join(', ')}.
        </p>
      )}
    </Section>
  );
}
