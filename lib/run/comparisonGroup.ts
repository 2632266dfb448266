import { cruiseClassByKey } from './cruiseClass';
import { isWorldKey, type WorldKey } from './world';

/** What is fitted together: the runs of one cruise class and one world. */
export interface ComparisonGroupRef {
  cruiseClassKey: string;
  world: WorldKey;
}

export function comparisonGroupKey(cruiseClassKey: string, world: WorldKey): string {
  return `${world}/${cruiseClassKey}`;
}

export function parseComparisonGroupKey(key: string): ComparisonGroupRef | undefined {
  const [world = '', cruiseClassKey = ''] = key.split('/');
  if (!isWorldKey(world) || cruiseClassByKey(cruiseClassKey) === undefined) return undefined;
  return { cruiseClassKey, world };
}
