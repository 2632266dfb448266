import type { Row, Table } from '../column';
import { CONTRASTS, ESTIMATES, FITS } from '../tables/fitTables';
import { RESULTS, RUNS } from '../tables/runTables';
import { LOOPS, MODELS, PROTOCOL_VERSIONS, SETUP_LEVELS, SETUPS } from '../tables/thingTables';
import { keyText } from '../verify/difference';

/** A table of another registry's snapshot that its pages here are read from. */
export interface KeptTable {
  table: Table;
  /** What its rows are looked for by, beside their key. */
  under?: string;
  /** Columns that no page reads: whoever wants them has the snapshot. */
  without?: readonly string[];
}

/** Everything else of a snapshot is verified, and then left where it came from. */
export const KEPT: readonly KeptTable[] = [
  { table: PROTOCOL_VERSIONS, without: ['parameters'] },
  { table: MODELS },
  { table: SETUPS, under: 'model_id' },
  { table: SETUP_LEVELS, under: 'setup_id' },
  { table: LOOPS, without: ['bearings'] },
  { table: RUNS, under: 'setup_id' },
  { table: RESULTS, without: ['budget', 'correlations', 'shared_parts'] },
  { table: FITS, without: ['testers_as_one', 'testers_not_vouched'] },
  { table: ESTIMATES, under: 'cruise_class' },
  { table: CONTRASTS, under: 'cruise_class' },
];

export interface KeptRow {
  key: string;
  under: string | null;
  row: Row;
}

export function keptRow({ table, under, without = [] }: KeptTable, row: Row): KeptRow {
  return {
    key: keyText(table, row),
    under: under === undefined ? null : String(row[under]),
    row: Object.fromEntries(Object.entries(row).filter(([name]) => !without.includes(name))),
  };
}

/** The key of a row by the parts of it. */
export const keyOf = (...parts: readonly (string | number)[]): string => parts.join(', ');
