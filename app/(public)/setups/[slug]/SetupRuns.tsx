import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import type { Display } from '@/lib/units/display';
import { densityFigure } from './densityFigure';
import { runsFigure } from './runsFigure';

interface SetupRunsProps {
  view: SetupView;
  chosen: ClassEstimate;
  display: Display;
}

/** The runs behind the estimate of one class, by car and session. */
export function SetupRuns({ view, chosen, display }: SetupRunsProps) {
  const { counts, density } = view;
  return (
    <Section
      id="runs"
      title="Runs by car and session"
      note={`At ${chosen.classLabel}, each run brought to reference conditions. How far the dots of a row lie apart shows how well runs repeat (repeatability); between rows the day and the car come in too.`}
      wide
    >
      {density === undefined ? null : <Figure figure={densityFigure(view, density, chosen, display)} />}
      <Figure figure={runsFigure(view, chosen, display)} />
      {counts.notNormalised > 0 ? (
        <p className="text-sm text-ink-soft">
          {counts.notNormalised} approved {counts.notNormalised === 1 ? 'run was' : 'runs were'} driven in
          conditions that the method cannot adjust for, and {counts.notNormalised === 1 ? 'has' : 'have'} no
          number at reference conditions.
        </p>
      ) : null}
    </Section>
  );
}
