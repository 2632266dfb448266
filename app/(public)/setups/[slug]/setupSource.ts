import type { FigureDescription } from '@/app/ui/figures/description';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import type { FittedConsumption } from '../../consumptionText';
import { hrefWith } from '../../rankings/query';

export type SetupOfFigure = Pick<SetupView, 'slug' | 'title' | 'model' | 'world'>;
export type ClassOfFigure = FittedConsumption & Pick<ClassEstimate, 'classKey' | 'classLabel' | 'fittedAt'>;

/** Where a figure of a setup lies, and what it is of. */
export function setupSource(
  kind: string,
  view: SetupOfFigure,
  chosen: ClassOfFigure,
  display: Display,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo' | 'mark'> {
  const query = { ...Object.fromEntries(displayParameters(display)), class: chosen.classKey };
  return {
    address: { kind, key: view.slug, query },
    source: { path: hrefWith(`/setups/${view.slug}`, {}, query), asOf: dateText(chosen.fittedAt) },
    isDemo: view.world === 'demo',
    mark: display.mark,
  };
}
