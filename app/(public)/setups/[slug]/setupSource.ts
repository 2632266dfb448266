import type { FigureDescription } from '@/app/ui/figures/description';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import { dateText } from '@/lib/run/localDate';
import type { UnitCode } from '@/lib/units/unit';
import { hrefWith } from '../../rankings/query';

export type SetupOfFigure = Pick<SetupView, 'slug' | 'title' | 'model' | 'world'>;
export type ClassOfFigure = Pick<ClassEstimate, 'classKey' | 'classLabel' | 'estimateWhPerKm' | 'fittedAt'>;

/** Where a figure of a setup lies, and what it is of. */
export function setupSource(
  kind: string,
  view: SetupOfFigure,
  chosen: ClassOfFigure,
  unit?: UnitCode,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo'> {
  const query = { class: chosen.classKey, unit };
  return {
    address: { kind, key: view.slug, query },
    source: { path: hrefWith(`/setups/${view.slug}`, {}, query), asOf: dateText(chosen.fittedAt) },
    isDemo: view.world === 'demo',
  };
}
