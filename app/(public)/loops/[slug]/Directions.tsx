import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { LoopView } from '@/lib/registry/loops/loop';
import type { Display } from '@/lib/units/display';
import { directionsFigure, windFigure } from './loopFigures';

/** Which way the road runs and from where the wind came: together they say how much of it blew along. */
export function Directions({ loop, display }: { loop: LoopView; display: Display }) {
  const wind = windFigure(loop, display);
  return (
    <Section
      id="directions"
      title="Direction and wind"
      note="Out and back, a wind along the road nearly cancels: what is left of it grows with its square. A crosswind never cancels."
      wide
    >
      <div className="grid gap-x-10 md:grid-cols-2">
        <Figure figure={directionsFigure(loop, display)} />
        {wind === undefined ? null : <Figure figure={wind} />}
      </div>
    </Section>
  );
}
