import type { FigureDescription } from '@/app/ui/figures/description';
import type { CompareView } from '@/lib/registry/comparisons/compare';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import { compareHref } from './compareQuery';

/** Where a figure of a comparison lies, and what it is of. */
export function compareSource(
  kind: string,
  view: Pick<CompareView, 'group' | 'fit'>,
  setups: readonly { slug: string }[],
  display: Display,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo' | 'mark'> {
  const { cruiseClassKey, world } = view.group;
  const setup = setups.map(({ slug }) => slug);
  const said = Object.fromEntries(displayParameters(display));
  return {
    address: { kind, key: cruiseClassKey, query: { ...said, setup, world } },
    source: {
      path: compareHref({}, { class: cruiseClassKey, world, ...said }, setup),
      asOf: dateText(view.fit?.fittedAt ?? new Date(0)),
    },
    isDemo: world === 'demo',
    mark: display.mark,
  };
}
