import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { AdoptedRoadLoad } from '@/lib/reduction/adoptedTerms';

/** What one case of the table starts from. */
export interface GoldenInput {
  /** As a registry of its time stored it, of any version that was ever written. */
  snapshot: object;
  /** What the model's version of the method adopted; null for the engine alone. */
  adopted: AdoptedRoadLoad | null;
}

export type Json = null | boolean | number | string | Json[] | { [key: string]: Json };

export interface GoldenCase {
  name: string;
  input: GoldenInput;
  output: Json;
}

/** All numbers of the method under one version, from readings to budget. Tables of earlier versions stay as documents. */
export interface GoldenTable {
  methodVersion: string;
  cases: GoldenCase[];
}

export function goldenPath(methodVersion: string): string {
  return resolve(import.meta.dirname, '../../../reference/golden', `${methodVersion}.json`);
}

export function readGolden(methodVersion: string): GoldenTable {
  return JSON.parse(readFileSync(goldenPath(methodVersion), 'utf8')) as GoldenTable;
}

/** One case a line, so that a change of one is a change of one line. */
export function goldenText({ methodVersion, cases }: GoldenTable): string {
  const lines = cases.map((each) => JSON.stringify(each)).join(',\n');
  return `{"methodVersion":${JSON.stringify(methodVersion)},"cases":[\n${lines}\n]}\n`;
}

/** Relative; a number that moved by more was moved by a change of the method. */
export const GOLDEN_TOLERANCE = 1e-12;

/** What is left of a sum that is zero: no quantity of the method is as small. */
const ROUNDING = 1e-15;

/** Where two values differ: paths, with both numbers. Empty when they are the same. */
export function differences(expected: Json, actual: Json, path = ''): string[] {
  if (typeof expected === 'number' && typeof actual === 'number') {
    const slack = Math.max(GOLDEN_TOLERANCE * Math.max(Math.abs(expected), Math.abs(actual)), ROUNDING);
    return Math.abs(expected - actual) <= slack ? [] : [`${path}: ${expected} became ${actual}`];
  }
  if (isParent(expected) && isParent(actual) && Array.isArray(expected) === Array.isArray(actual)) {
    const [before, after] = [new Map(Object.entries(expected)), new Map(Object.entries(actual))];
    return [...new Set([...before.keys(), ...after.keys()])].flatMap((key) => {
      const [was, is] = [before.get(key), after.get(key)];
      if (was === undefined) return [`${path}.${key} is new`];
      if (is === undefined) return [`${path}.${key} is gone`];
      return differences(was, is, `${path}.${key}`);
    });
  }
  return expected === actual ? [] : [`${path}: ${JSON.stringify(expected)} became ${JSON.stringify(actual)}`];
}

function isParent(value: Json): value is Json[] | { [key: string]: Json } {
  return typeof value === 'object' && value !== null;
}
