import { countText } from '@/app/ui/countText';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { differencesFigure } from './differencesFigure';

interface DifferencesProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** Each setup against the baseline as a figure; its table says what joins each pair. */
export function Differences({ view, baseline, display }: DifferencesProps) {
  const sense = senseOf(display.consumption);
  return (
    <Section
      id="differences"
      title={`Difference in ${sense.quantity}`}
      note={`Against ${setupInText(baseline.name)}, worked out from all ${countText({ runs: view.fit?.runCount ?? 0 })} at this speed.`}
      wide
    >
      <Figure
        figure={differencesFigure(view, baseline, display)}
        isTitleSaid={view.differences.length === 1}
      />
    </Section>
  );
}
