import { youngClassSpread } from '@/lib/physics/priors';
import { fitGroup } from '@/lib/stats/fitGroup';
import { contrastRows, estimateRows, type FitBasis, optionsOf } from '@/lib/stats/publishedFit';
import { columnsOf } from '@/lib/stats/runColumns';
import { readFitBasis } from '@/lib/stats/stored';
import { SetupTallies } from '@/lib/stats/tallySetups';
import type { Row, Table } from '../column';
import { contrastRow, estimateRow, fitRow } from '../fitRows';
import { CONTRASTS, ESTIMATES, FITS } from '../tables/fitTables';
import type { ClassRuns, ReadRows } from './checkRuns';
import { type Differences, keyText } from './difference';
import { InStep } from './inStep';

/** A class of which no run counts any more. */
const NONE: ClassRuns = {
  runs: columnsOf([]),
  tallies: new SetupTallies(),
  notNormalised: 0,
  unreadable: 0,
};

const BY = 'fitted anew from the runs';

/** Fits each class again from its runs and holds components, estimates, rank sets and differences against it. */
export async function checkFits(
  read: ReadRows,
  classes: ReadonlyMap<string, ClassRuns>,
  methodVersion: string,
  differences: Differences,
): Promise<void> {
  const estimates = new InStep(read(ESTIMATES), 'cruise_class');
  const contrasts = new InStep(read(CONTRASTS), 'cruise_class');
  const fitted = new Set<string>();
  for await (const row of read(FITS)) {
    const key = String(row.cruise_class);
    fitted.add(key);
    differences.compare(FITS, row, { method_version: methodVersion }, 'by the descriptor');
    const kept = { estimates: await estimates.take(key), contrasts: await contrasts.take(key) };
    const basis = basisOf(row);
    if (basis === undefined) differences.add('fits', key, '', 'what it was made with cannot be read');
    else checkFit(row, basis, kept, classes.get(key), differences);
  }
  for (const key of classes.keys())
    if (!fitted.has(key)) differences.add('fits', key, '', 'the class has runs that count, and no fit');
}

/** Not all of it is taken for granted: with another basis other numbers come out. */
function basisOf(row: Row): FitBasis | undefined {
  return readFitBasis({
    minimumCounts: { runs: row.least_runs, sessions: row.least_sessions, cars: row.least_cars },
    pooledCarLoop: row.pooled_car_loop,
    clusters: row.testers_as_one,
    unvouched: row.testers_not_vouched,
  });
}

function checkFit(
  row: Row,
  basis: FitBasis,
  kept: { estimates: Row[]; contrasts: Row[] },
  of: ClassRuns | undefined,
  differences: Differences,
): void {
  const key = String(row.cruise_class);
  const { runs, tallies, notNormalised, unreadable } = of ?? NONE;
  const fit = fitGroup(runs, optionsOf(basis, { priors: youngClassSpread(), seed: row.seed as number }));
  const about = {
    cruiseClassKey: key,
    methodVersion: String(row.method_version),
    fittedAt: String(row.fitted_at),
  };
  differences.compare(
    FITS,
    row,
    fitRow(about, { ...fit, nIn: fit.nIn + unreadable, notNormalised }, basis),
    BY,
  );
  compareAll(
    ESTIMATES,
    kept.estimates,
    estimateRows(fit, runs, tallies.tallies(), basis).map((estimate) => estimateRow(key, estimate)),
    differences,
  );
  compareAll(
    CONTRASTS,
    kept.contrasts,
    contrastRows(fit).map((contrast) => contrastRow(key, contrast)),
    differences,
  );
}

function compareAll(
  table: Table,
  found: readonly Row[],
  expected: readonly Row[],
  differences: Differences,
): void {
  const byKey = new Map(expected.map((row) => [keyText(table, row), row]));
  for (const row of found) {
    const key = keyText(table, row);
    const its = byKey.get(key);
    byKey.delete(key);
    if (its === undefined)
      differences.add(table.name, key, table.key.join(', '), 'the fit of the runs has no such row');
    else differences.compare(table, row, its, BY);
  }
  for (const key of byKey.keys())
    differences.add(table.name, key, '', 'the fit of the runs has this row, the table has not');
}
