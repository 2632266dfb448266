import { SIMULATED_KINDS, type SimulatedKind } from '@/lib/stats/holds/simulatedKinds';
import { type Coverage, isWithin, KINDS, type Share, targetOf } from './coverageCount';

/** One line of the table: what was simulated, what was counted, how often it held. */
export interface CoverageRow extends Share {
  group: string;
  layout: string;
  kind: SimulatedKind;
  target: readonly [number, number];
}

export function rowsOf(group: string, layout: string, coverage: Coverage, isYoung = false): CoverageRow[] {
  return KINDS.flatMap((kind) => {
    const share = coverage[kind];
    return share === null ? [] : [{ group, layout, kind, target: targetOf(kind, isYoung), ...share }];
  });
}

export const isMet = ({ share, target }: Pick<CoverageRow, 'share' | 'target'>) => isWithin(share, target);

const percent = (share: number) => (100 * share).toFixed(1);

export function describeRow(row: CoverageRow): string {
  const { kind, share, standardError, worlds, intervals, target } = row;
  const off = Math.max(target[0] - share, share - target[1]);
  const asFar = off <= 2 * standardError ? 'as far as chance goes ' : '';
  const outside = isMet(row) ? '' : `  ${asFar}OUTSIDE ${percent(target[0])}–${percent(target[1])} %`;
  return `    ${SIMULATED_KINDS[kind]}: ${percent(share)} ± ${percent(standardError)} % of ${intervals} in ${worlds} worlds${outside}`;
}

/** Prints the rows of a layout as they are known. */
export function printRows(rows: readonly CoverageRow[]): void {
  let last = '';
  for (const row of rows) {
    if (row.layout !== last) console.log(`  ${row.layout}`);
    last = row.layout;
    console.log(describeRow(row));
  }
}
