import type { FigureDescription } from '@/app/ui/figures/description';
import type { CompareView } from '@/lib/registry/comparisons/compare';
import { dateText } from '@/lib/run/localDate';
import type { UnitCode } from '@/lib/units/unit';
import { compareHref } from './compareQuery';

interface Compared {
  setups: readonly { slug: string }[];
  /** Where it shows consumption and not only differences. */
  unit?: UnitCode;
}

/** Where a figure of a comparison lies, and what it is of. */
export function compareSource(
  kind: string,
  view: Pick<CompareView, 'group' | 'fit'>,
  { setups, unit }: Compared,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo'> {
  const { cruiseClassKey, world } = view.group;
  const setup = setups.map(({ slug }) => slug);
  return {
    address: { kind, key: cruiseClassKey, query: { setup, unit, world } },
    source: {
      path: compareHref({}, { class: cruiseClassKey, world, unit }, setup),
      asOf: dateText(view.fit?.fittedAt ?? new Date(0)),
    },
    isDemo: world === 'demo',
  };
}
