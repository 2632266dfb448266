import type { ComparisonGroupRef } from '@/lib/run/comparisonGroup';
import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { currentGroups } from '@/lib/store/fits';
import type { Registry } from '../registry';

export interface ClassChoice {
  key: string;
  label: string;
  runs: number;
}

export interface ChosenGroup {
  group: ComparisonGroupRef;
  classLabel: string;
  speedMps: number;
  /** The classes that have runs, of the same world. */
  classes: ClassChoice[];
  /** The worlds that have a fit. */
  worlds: readonly WorldKey[];
}

/**
 * The comparison group that a reader means: the class asked for, or the one with most runs; the world asked for, or
 * the record, or whatever there is.
 */
export async function chooseGroup(
  registry: Registry,
  query: { classKey?: string | undefined; world?: string | undefined },
): Promise<ChosenGroup | undefined> {
  const groups = await currentGroups(registry.db);
  const worlds = [...new Set(groups.map(({ group }) => worldKey(group.world)))];
  const [first] = worlds;
  if (first === undefined) return undefined;
  const world =
    worlds.find((candidate) => candidate === query.world) ?? (worlds.includes(RECORD) ? RECORD : first);
  const classes = groups
    .filter(({ group }) => group.world === world)
    .map(({ group, runCount }) => ({ ...group.cruiseClass, runs: runCount }));
  const largest = classes.reduce((a, b) => (b.runs > a.runs ? b : a), classes[0] ?? noClass());
  const wanted = CRUISE_CLASSES.find((cruiseClass) => cruiseClass.key === query.classKey);
  const chosen = classes.find((cruiseClass) => cruiseClass.key === query.classKey) ?? wanted ?? largest;
  return {
    group: { cruiseClassKey: chosen.key, world },
    classLabel: chosen.label,
    speedMps: chosen.speedMps,
    classes,
    worlds,
  };
}

function noClass(): never {
  throw new Error('a world with groups has classes');
}
