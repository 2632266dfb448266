import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/**
 * Pages round no number themselves: lib/units/show knows the reader's unit and mark and the place of each number. Asking
 * the browser for its zone formats nothing.
 */
const ROUNDING =
  /\.(?:toFixed|toPrecision|toExponential|toLocaleString|toLocaleDateString)\(|\bIntl\.(?!DateTimeFormat\(\)\.resolvedOptions)/;
const OWN_FORMAT = /\b(?:formatNumber|formatQuantity|formatInterval|formatWithUncertainty)\b/;
/** Coordinates of drawings are no numbers that anybody reads. */
const DRAWINGS = 'app/ui/figures/';
/** Instants for machines, not for people. */
const ISO_CUT = /\.slice\(0, (?:10|16)\)/;
/** The axis of every figure is told the reader's mark and has its numbers in the reader's unit already. */
const AXIS = 'app/ui/figures/axis.ts';
/** They cut the day out of an instant and hand it on to be named. */
const CUTS_A_DAY = [
  'app/runDossier/Cite.tsx',
  'app/(tester)/record/[runId]/ReviewNote.tsx',
  'app/(public)/models/[slug]/roadLoadFigure.ts',
  'app/(review)/reports/page.tsx',
  'app/(steward)/people/page.tsx',
];

const files = readdirSync('app', { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name))
  .map((name) => join('app', name));
const offending = (pattern: RegExp, except: (file: string) => boolean) =>
  files.filter((file) => !except(file) && pattern.test(readFileSync(file, 'utf8')));

describe('numbers and days of the pages', () => {
  it('are scanned at all', () => {
    expect(files.length).toBeGreaterThan(200);
    expect(ROUNDING.test('x.toFixed(2)')).toBe(true);
    expect(ROUNDING.test('Intl.DateTimeFormat().format(x)')).toBe(true);
  });

  it('are rounded in one place', () => {
    expect(offending(ROUNDING, (file) => file.startsWith(DRAWINGS))).toEqual([]);
  });

  it('are never said without the reader’s unit and decimal mark', () => {
    expect(offending(OWN_FORMAT, (file) => file === AXIS)).toEqual([]);
  });

  it('are never shown as a cut of a machine’s instant', () => {
    expect(offending(ISO_CUT, (file) => CUTS_A_DAY.includes(file))).toEqual([]);
  });
});
