import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunView } from '@/lib/registry/runs/run';
import { type Display, displayParameters } from '@/lib/units/display';
import { hrefWith } from '../(public)/rankings/query';

export type RunOfFigure = Pick<RunView, 'number' | 'isPublic' | 'revisionNumber' | 'world'> & {
  subject: Pick<RunView['subject'], 'classLabel' | 'localDate' | 'model' | 'setup'>;
};

/** Where a figure of a run lies, and what it is of. Files are for runs that everybody may see. */
export function runSource(
  kind: string,
  { number, isPublic, revisionNumber, subject, world }: RunOfFigure,
  display: Display,
): Pick<FigureDescription, 'address' | 'counts' | 'source' | 'isDemo' | 'mark'> {
  const said = Object.fromEntries(displayParameters(display));
  return {
    ...(isPublic ? { address: { kind, key: String(number), query: said } } : {}),
    counts: `run ${number}, revision ${revisionNumber} · ${subject.model.name}, ${subject.setup.title} · ${subject.classLabel}`,
    source: { path: hrefWith(`/runs/${number}`, {}, said), asOf: subject.localDate },
    isDemo: world === 'demo',
    mark: display.mark,
  };
}
