import { Figure } from '@/app/ui/figures/Figure';
import type { RunTraceView } from '@/lib/registry/traces/runTrace';
import type { RunOfFigure } from './runSource';
import { traceFigure, trackFigure } from './traceFigures';

/** Speed and height along the way, and the way itself, all without the hidden ends. */
export function TracePlots({ trace, of }: { trace: RunTraceView; of: RunOfFigure }) {
  const along = traceFigure(of, trace);
  const track = trackFigure(of, trace);
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
