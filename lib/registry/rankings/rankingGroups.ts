import { BODY_CLASSES, bodyLabel } from '@/lib/run/bodyClass';
import { type Band, bandsOf } from '@/lib/stats/bands';
import { undecidedWithin } from '@/lib/store/rankingContrasts';
import type { Registry } from '../registry';
import type { BaselineOfModel, RankedSetup } from './rankedSetup';

export const GROUPED_BY = ['model', 'body', 'all'] as const;
export type GroupedBy = (typeof GROUPED_BY)[number];

/** Rows of a ranking that share an axis, one after the other, the lowest first. */
export interface RankingGroup {
  key: string;
  title: string;
  /** Their model as delivered, where they are of one model. */
  baseline: BaselineOfModel | null;
  /** Its rows are so many of the ranked setups from this place on. */
  from: number;
  count: number;
  /** Stretches of rows of which the fit tells no two apart. */
  bands: Band[];
  /** Of each row the places of those that the fit cannot tell from it. */
  together: number[][];
}

type Grouped = Pick<RankedSetup, 'model' | 'modelSlug' | 'bodyClass'>;

export function groupOf(setup: Grouped, by: GroupedBy) {
  switch (by) {
    case 'model':
      return { key: setup.modelSlug, title: setup.model };
    case 'body':
      return { key: setup.bodyClass, title: bodyLabel(setup.bodyClass) };
    case 'all':
      return { key: 'all', title: 'All setups' };
  }
}

/** Group after group, by the shape of the body and then by name; within a group the order stays. */
export function inGroups<Setup extends Grouped>(setups: readonly Setup[], by: GroupedBy): Setup[] {
  if (by === 'all') return [...setups];
  const bodies: readonly string[] = BODY_CLASSES.map(({ value }) => value);
  const place = ({ bodyClass }: Grouped) => bodies.indexOf(bodyClass);
  const name = (setup: Grouped) => (by === 'model' ? `${setup.model} ${setup.modelSlug}` : '');
  // Sorting is stable.
  return [...setups].sort((a, b) => place(a) - place(b) || name(a).localeCompare(name(b)));
}

/** Setups, group after group, in their groups; without a fit nothing is said of what can be told apart. */
export async function readGroups(
  registry: Registry,
  fitId: string | undefined,
  setups: readonly RankedSetup[],
  by: GroupedBy,
): Promise<RankingGroup[]> {
  const undecided =
    fitId === undefined
      ? new Set<string>()
      : await undecidedWithin(
          registry.db,
          fitId,
          [...byGroup(setups, by).values()].map((rows) => rows.map(({ setupId }) => setupId)),
        );
  return groupsOf(setups, by, undecided);
}

type GroupedSetup = Grouped & Pick<RankedSetup, 'setupId' | 'baseline'>;

function byGroup<Setup extends Grouped>(setups: readonly Setup[], by: GroupedBy): Map<string, Setup[]> {
  const groups = new Map<string, Setup[]>();
  for (const setup of setups) {
    const { key } = groupOf(setup, by);
    groups.set(key, [...(groups.get(key) ?? []), setup]);
  }
  return groups;
}

/** The same where it is known which two, "one other" by their ids, cannot be told apart. */
export function groupsOf(
  setups: readonly GroupedSetup[],
  by: GroupedBy,
  undecided: ReadonlySet<string>,
): RankingGroup[] {
  const groups = [...byGroup(setups, by).values()];
  let next = 0;
  return groups.flatMap((rows) => {
    const from = next;
    next += rows.length;
    const [first] = rows;
    if (first === undefined) return [];
    const isTogether = (a: number, b: number) => undecided.has(`${rows[a]?.setupId} ${rows[b]?.setupId}`);
    const isOneModel = rows.every(({ modelSlug }) => modelSlug === first.modelSlug);
    const group = groupOf(first, by);
    return [
      {
        ...group,
        title: by === 'body' && isOneModel ? `${group.title}: ${first.model}` : group.title,
        baseline: isOneModel ? first.baseline : null,
        from,
        count: rows.length,
        bands: bandsOf(rows.length, isTogether),
        together: rows.map((_, a) => rows.flatMap((_, b) => (isTogether(a, b) ? [b] : []))),
      },
    ];
  });
}
