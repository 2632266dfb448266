import type { FigureDescription } from '@/app/ui/figures/description';
import type { RunView } from '@/lib/registry/runs/run';
import type { UnitCode } from '@/lib/units/unit';

export type RunOfFigure = Pick<RunView, 'number' | 'isPublic' | 'revisionNumber' | 'world'> & {
  subject: Pick<RunView['subject'], 'classLabel' | 'localDate' | 'model' | 'setup'>;
};

/** Where a figure of a run lies, and what it is of. Files are for runs that everybody may see. */
export function runSource(
  kind: string,
  { number, isPublic, revisionNumber, subject, world }: RunOfFigure,
  unit?: UnitCode,
): Pick<FigureDescription, 'address' | 'counts' | 'source' | 'isDemo'> {
  const unitQuery = unit === undefined ? '' : `?unit=${encodeURIComponent(unit)}`;
  return {
    ...(isPublic ? { address: { kind, key: String(number), query: { unit } } } : {}),
    counts: `run ${number}, revision ${revisionNumber} · ${subject.model.name}, ${subject.setup.title} · ${subject.classLabel}`,
    source: { path: `/runs/${number}${unitQuery}`, asOf: subject.localDate },
    isDemo: world === 'demo',
  };
}
