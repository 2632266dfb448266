import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { SetupView } from '@/lib/registry/setups/setup';
import type { CarDeviation } from '@/lib/stats/setupShrinkage';
import type { Display } from '@/lib/units/display';
import type { ClassOfFigure, SetupOfFigure } from './setupSource';
import { spreadFigure } from './spreadFigure';

interface SetupSpreadProps {
  view: SetupOfFigure & Pick<SetupView, 'sessions'>;
  chosen: ClassOfFigure;
  cars: readonly CarDeviation[];
  /** Of which these are the latest. */
  of: { cars: number; sessions: number };
  display: Display;
}

/** How far each car and day lies from the setup's estimate, and how much of that the model believes. */
export function SetupSpread({ display, ...spread }: SetupSpreadProps) {
  return (
    <Section
      id="shrinkage"
      title="Cars and days, shrunk"
      note="Few runs that lie far off are more likely luck than a different car. The fit therefore keeps only a part of each deviation: more of it, the more runs stand behind it and the more cars differ at all."
      wide
    >
      <Figure figure={spreadFigure(spread, display)} />
      <p className="max-w-[46rem] text-sm text-ink-soft">
        A car is known by its runs of the model’s other setups too, and counts anew on another loop. The share
        kept holds for a deviation that all of the car’s runs have in common.
      </p>
    </Section>
  );
}
