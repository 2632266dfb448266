import type { IntervalsHold } from '@/lib/stats/holds/intervalsHold';
import { readIntervalsHold } from '@/lib/stats/holds/stored';
import { fitCheckOf, namesOfChecked } from '@/lib/store/fitChecks';
import { currentFit } from '@/lib/store/fits';
import { type ChosenGroup, chooseGroup } from '../comparisons/comparisonWorld';
import type { Registry } from '../registry';

export interface IntervalsView extends ChosenGroup {
  fit: { fittedAt: Date; runCount: number; methodVersion: string } | null;
  /** Undefined where nothing has been asked of the fit yet. */
  held: (IntervalsHold & { computedAt: Date }) | undefined;
  /** Of the cars, testers and loops that it speaks of. */
  names: ReadonlyMap<string, string>;
}

/** Whether the intervals of one class hold, as it was asked of its current fit. */
export async function readIntervals(
  registry: Registry,
  query: { classKey?: string | undefined; world?: string | undefined },
): Promise<IntervalsView | undefined> {
  const chosen = await chooseGroup(registry, query);
  if (chosen === undefined) return undefined;
  const fit = await currentFit(registry.db, chosen.group);
  const check = fit === null ? null : await fitCheckOf(registry.db, fit.id);
  const held = readIntervalsHold(check?.result);
  const idsOf = (kind: string) =>
    (held?.dispersion ?? []).flatMap((one) => (one.kind === kind ? [one.key] : []));
  const names = await namesOfChecked(registry.db, {
    cars: idsOf('car'),
    testers: idsOf('tester'),
    loops: idsOf('loop'),
  });
  return {
    ...chosen,
    fit: fit && { fittedAt: fit.fittedAt, runCount: fit.runCount, methodVersion: fit.methodVersion },
    held: held && check ? { ...held, computedAt: check.computedAt } : undefined,
    names,
  };
}
