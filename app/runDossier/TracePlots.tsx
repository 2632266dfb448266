import { Figure } from '@/app/ui/figures/Figure';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import type { Display } from '@/lib/units/display';
import type { RunOfFigure } from './runSource';
import { traceFigure, trackFigure } from './traceFigures';

interface TracePlotsProps {
  trace: RunTraceView;
  of: RunOfFigure;
  display: Display;
}

/** Speed and height along the way, and the way itself, all without the hidden ends. */
export function TracePlots({ trace, of, display }: TracePlotsProps) {
  const along = traceFigure(of, trace, display);
  const track = trackFigure(of, trace, display);
  if (along === undefined)
    return (
      <p className="my-6 text-ink-soft">Nothing of the track is left to show once its ends are hidden.</p>
    );
  return (
    <>
      <Figure figure={along} />
      {track === undefined ? null : <Figure figure={track} />}
    </>
  );
}
