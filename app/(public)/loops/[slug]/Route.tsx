import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { routeFigure } from './loopFigures';

/** The route in its true shape, and its legs. */
export function Route({ loop, display }: { loop: LoopView; display: Display }) {
  return (
    <Section
      id="route"
      title="Route"
      note="In its true shape, north up. The outline is kept in metres from the start, so it does not say where on earth the loop lies."
      wide
    >
      <Figure figure={routeFigure(loop, display)} />
    </Section>
  );
}
