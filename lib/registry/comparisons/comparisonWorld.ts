import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { currentGroups } from '@/lib/store/fits';
import type { ComparisonGroupRef } from '../rankings/comparisonGroup';
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
  hasDemo: boolean;
  hasRecord: boolean;
}

/**
 * The comparison group that a reader means: the class asked for, or the one with most runs; the record's own runs,
 * or the demo world where it is asked for or where there is nothing else.
 */
export async function chooseGroup(
  registry: Registry,
  query: { classKey?: string | undefined; world?: string | undefined },
): Promise<ChosenGroup | undefined> {
  const groups = await currentGroups(registry.db);
  const hasDemo = groups.some(({ group }) => group.isDemo);
  const hasRecord = groups.some(({ group }) => !group.isDemo);
  if (groups.length === 0) return undefined;
  const isDemo = hasDemo && (query.world === 'demo' || !hasRecord);
  const classes = groups
    .filter(({ group }) => group.isDemo === isDemo)
    .map(({ group, runCount }) => ({ ...group.cruiseClass, runs: runCount }));
  const largest = classes.reduce((a, b) => (b.runs > a.runs ? b : a), classes[0] ?? noClass());
  const wanted = CRUISE_CLASSES.find((cruiseClass) => cruiseClass.key === query.classKey);
  const chosen = classes.find((cruiseClass) => cruiseClass.key === query.classKey) ?? wanted ?? largest;
  return {
    group: { cruiseClassKey: chosen.key, isDemo },
    classLabel: chosen.label,
    speedMps: chosen.speedMps,
    classes,
    hasDemo,
    hasRecord,
  };
}

function noClass(): never {
  throw new Error('a world with groups has classes');
}
