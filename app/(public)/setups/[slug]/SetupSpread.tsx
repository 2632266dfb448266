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
      title="How far cars and days differ"
      note="A car that looks different after a few runs may only have been lucky. So just a part of that is believed: more of it with more runs, and where cars differ more. Statisticians call that shrinkage."
      wide
    >
      <Figure figure={spreadFigure(spread, display)} />
      <p className="max-w-[46rem] text-sm text-ink-soft">
        A car’s runs of the model’s other setups count here too; on another loop it starts afresh. The share
        believed is that of a difference which all of the car’s runs have in common.
      </p>
    </Section>
  );
}
