import type { BearingShare } from '@/lib/run/loopShape';
import type { RunForm } from '@/lib/run/runForm';
import type { CalibrationSnapshot, LegSnapshot } from '../snapshot';

export type ColumnValue = string | number | boolean | null;

/** Columns of a row that change, by name: what was there and what is to be. */
export type ChangedColumns = Readonly<Record<string, { before: ColumnValue; after: ColumnValue }>>;

/** Which way a loop runs: its directions as a whole, and its legs where they are known. */
export interface LoopDirections {
  bearings: readonly BearingShare[];
  legs: readonly LegSnapshot[];
}

/** A calibration with what no number follows from. */
export interface KeptCalibration extends CalibrationSnapshot {
  method: string;
  note: string | null;
  invalidatedReason: string | null;
}

/** One that is new has no id and nothing before; one that is taken back has nothing after. */
export interface CalibrationChange {
  id: string | null;
  before: KeptCalibration | null;
  after: KeptCalibration | null;
}

/** What a correction changes, of the thing that it names. */
export type Change =
  | { kind: 'car'; columns: ChangedColumns }
  | { kind: 'model'; columns: ChangedColumns }
  | {
      kind: 'loop';
      columns: ChangedColumns;
      directions: { before: LoopDirections; after: LoopDirections } | null;
    }
  | { kind: 'calibrations'; changes: readonly CalibrationChange[] }
  | { kind: 'run'; before: RunForm; after: RunForm };

export type CorrectedKind = Change['kind'];

/** A form shows twelve digits of a number: what comes back of it untouched is the same. */
const DIGITS = 1e-11;

export function isSameValue(a: ColumnValue, b: ColumnValue): boolean {
  if (typeof a !== 'number' || typeof b !== 'number') return a === b;
  return Math.abs(a - b) <= DIGITS * Math.max(Math.abs(a), Math.abs(b));
}

/** The columns in which two rows differ, of those that are named. */
export function changedColumns<Row extends object>(
  before: Row,
  after: Partial<Row>,
  names: readonly (keyof Row & string)[],
): ChangedColumns {
  const value = (row: Partial<Row>, name: keyof Row) => (row[name] ?? null) as ColumnValue;
  return Object.fromEntries(
    names
      .filter((name) => !isSameValue(value(before, name), value(after, name)))
      .map((name) => [name, { before: value(before, name), after: value(after, name) }]),
  );
}

/** Whether anything would be another. */
export function changesSomething(change: Change): boolean {
  switch (change.kind) {
    case 'car':
    case 'model':
      return Object.keys(change.columns).length > 0;
    case 'loop':
      return Object.keys(change.columns).length > 0 || change.directions !== null;
    case 'calibrations':
      return change.changes.length > 0;
    case 'run': {
      const names = new Set([...Object.keys(change.before), ...Object.keys(change.after)]);
      return [...names].some((name) => (change.before[name] ?? '') !== (change.after[name] ?? ''));
    }
  }
}

/** The first day whose runs a change of calibrations can touch: before it, all of them say the same. */
export function firstDayTouched(changes: readonly CalibrationChange[]): string | undefined {
  return changes
    .map(({ before, after }) => {
      if (before === null || after === null) return (before ?? after)?.measuredOn ?? '';
      const sameButEnd = { ...before, invalidatedOn: null, invalidatedReason: null };
      const onlyEnds =
        JSON.stringify(sameButEnd) ===
        JSON.stringify({ ...after, invalidatedOn: null, invalidatedReason: null });
      const days = onlyEnds
        ? [before.invalidatedOn, after.invalidatedOn].filter((day) => day !== null)
        : [before.measuredOn, after.measuredOn];
      return days.toSorted()[0] ?? after.measuredOn;
    })
    .toSorted()[0];
}
