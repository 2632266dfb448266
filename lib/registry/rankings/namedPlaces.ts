import type { NamedPlace } from '@/lib/answers/placeText';
import type { HeldPlace } from '@/lib/stats/stored';
import { accountNames } from '@/lib/store/accounts';
import type { Registry } from '../registry';

/** Rows with the testers named that their places hang on. */
export async function withNamedPlaces<Row extends { held: HeldPlace }>(
  registry: Registry,
  rows: readonly Row[],
): Promise<(Omit<Row, 'held'> & { held: NamedPlace })[]> {
  const ids = rows.flatMap(({ held }) => [...held.restsOn, ...(held.without?.testers ?? [])]);
  const names = await accountNames(registry.db, [...new Set(ids)]);
  const named = (testers: readonly string[]) => testers.flatMap((id) => names.get(id) ?? []).sort();
  return rows.map(({ held: { restsOn, without }, ...row }) => ({
    ...row,
    held: {
      restsOn: named(restsOn),
      without: without && { names: named(without.testers), lower: without.lower, upper: without.upper },
    },
  }));
}
