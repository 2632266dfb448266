import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { Observation } from '@/lib/stats/structure';

const folder = resolve(import.meta.dirname, '../../reference/stats');

/** Rows of a reference table as strings by column name. */
export function readTable(name: string): Record<string, string>[] {
  const [head, ...lines] = readFileSync(resolve(folder, 'data', `${name}.csv`), 'utf8')
    .trim()
    .split('\n');
  const columns = (head as string).split(',');
  return lines.map((line) => Object.fromEntries(line.split(',').map((value, i) => [columns[i], value])));
}

/** A reference result; the caller states the part it reads. */
export function readResult<T>(name: string): T {
  return JSON.parse(readFileSync(resolve(folder, 'results', `${name}.json`), 'utf8')) as T;
}

/** The synthetic runs as observations, with or without their known uncertainties. */
export function readSynthetic(name: 'synth2k' | 'synthKV', withU: boolean): Observation[] {
  return readTable(name).map((row) => ({
    setup: row.config as string,
    car: row.tester as string,
    session: row.session as string,
    z: Number(row.logy),
    u: withU ? Number(row.u) : 0,
  }));
}

/** Largest relative gap between two lists of the same length. */
export function largestRelativeGap(found: readonly number[], wanted: readonly number[]): number {
  if (found.length !== wanted.length) throw new Error(`lengths differ: ${found.length}, ${wanted.length}`);
  return found.reduce(
    (worst, x, i) => Math.max(worst, Math.abs(x - (wanted[i] as number)) / Math.abs(wanted[i] as number)),
    0,
  );
}
