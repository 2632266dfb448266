import type { FigureDescription } from '@/app/ui/figures/description';
import { dateText } from '@/lib/run/localDate';
import { RECORD, type WorldKey } from '@/lib/run/world';
import { type Display, displayParameters } from '@/lib/units/display';
import { hrefWith } from '../rankings/query';

interface Place {
  kind: string;
  key: string;
  /** Under /factors; '' for the list. */
  page: string;
  query?: Readonly<Record<string, string>>;
  classKey?: string;
  world: WorldKey;
  asOf: Date | undefined;
}

/** Where a figure of factors lies, and what it is of. */
export function factorsSource(
  { kind, key, page, query = {}, classKey, world, asOf }: Place,
  display: Display,
): Pick<FigureDescription, 'address' | 'source' | 'isDemo' | 'mark'> {
  const said = Object.fromEntries(displayParameters(display));
  const of = { ...(classKey === undefined ? {} : { class: classKey }), world };
  return {
    address: { kind, key, query: { ...said, ...of, ...query } },
    source: { path: factorsHref(page, { ...of, ...said }), asOf: dateText(asOf ?? new Date(0)) },
    isDemo: world === 'demo',
    mark: display.mark,
  };
}

export function factorsHref(page: string, query: Record<string, string | undefined> = {}): string {
  const { world, ...rest } = query;
  return hrefWith(
    page === '' ? '/factors' : `/factors/${page}`,
    {},
    {
      ...rest,
      world: world === RECORD ? undefined : world,
    },
  );
}
