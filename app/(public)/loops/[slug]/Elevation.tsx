import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { elevationFigure } from './loopFigures';

/** Height above sea level along the way. */
export function Elevation({ loop, display }: { loop: LoopView; display: Display }) {
  const figure = elevationFigure(loop, display);
  if (figure === undefined) return null;
  return (
    <Section
      id="elevation"
      title="Height along the way"
      note="What one leg climbs the other gives back, less what the brakes take: gentle slopes cost little, steep ones that need braking cost more."
      wide
    >
      <Figure figure={figure} />
    </Section>
  );
}
