import { cruiseClassByKey } from '@/lib/run/cruiseClass';

/** What is fitted together: the runs of one cruise class, of the record or of the demo world, never mixed. */
export interface ComparisonGroupRef {
  cruiseClassKey: string;
  isDemo: boolean;
}

export function comparisonGroupKey(cruiseClassKey: string, isDemo: boolean): string {
  return `${isDemo ? 'demo' : 'record'}/${cruiseClassKey}`;
}

export function parseComparisonGroupKey(key: string): ComparisonGroupRef | undefined {
  const [world, cruiseClassKey = ''] = key.split('/');
  if ((world !== 'demo' && world !== 'record') || cruiseClassByKey(cruiseClassKey) === undefined)
    return undefined;
  return { cruiseClassKey, isDemo: world === 'demo' };
}
