import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { GroupFit } from '@/lib/stats/groupFit';

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'fit-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

function command(args: string[]): { code: number | null; out: string; err: string } {
  const done = spawnSync('node', ['--import', 'tsx', 'lib/commands/fit.ts', ...args], { encoding: 'utf8' });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

function file(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

/** A reference table with its columns renamed to those of the command. */
function reference(name: string, columns: Record<string, string>): string {
  const source = resolve(import.meta.dirname, '../../reference/stats/data', `${name}.csv`);
  const [head, ...lines] = readFileSync(source, 'utf8').trim().split('\n') as [string, ...string[]];
  return [
    head
      .split(',')
      .map((column) => columns[column] ?? column)
      .join(','),
    ...lines,
  ].join('\n');
}

describe('npm run fit', { timeout: 60_000 }, () => {
  it('fits Dyestuff on the identity scale to the components of lme4', () => {
    const text = reference('Dyestuff', { Batch: 'car', Yield: 'value' })
      .split('\n')
      .map((line, i) => (i === 0 ? `setup,${line}` : `all,${line}`))
      .join('\n');
    const { code, out, err } = command([file('dyestuff.csv', text), '--scale', 'identity', '--json']);
    expect(err).toBe('');
    expect(code).toBe(0);
    const fit = JSON.parse(out) as GroupFit & { scale: string };
    // lme4: Batch 1764.05, residual 2451.25, REML criterion 319.6543; mean 1527.5, se 19.3834, df 5.
    expect(fit.scale).toBe('identity');
    expect(fit.components.car).toBeCloseTo(1764.05, 5);
    expect(fit.components.session).toBe(0);
    expect(fit.components.residual).toBeCloseTo(2451.25, 5);
    expect(fit.remlCriterion).toBeCloseTo(319.654276842, 6);
    expect(fit.estimates[0]).toMatchObject({ n: 30, cars: 6 });
    expect(fit.estimates[0]?.beta).toBeCloseTo(1527.5, 8);
    expect(fit.estimates[0]?.se).toBeCloseTo(19.3834121523189, 6);
    expect(fit.estimates[0]?.df).toBeCloseTo(5, 6);
  });

  it('prints everything as JSON, and as text where that is asked for', () => {
    const rows = ['low,k,1,180', 'std,k,1,184', 'low,k,2,183', 'std,k,2,186', 'low,l,1,187', 'std,l,1,190'];
    const more = ['low,l,2,188', 'std,l,2,192', 'low,m,1,176', 'std,m,1,181', 'wide,m,1,199'];
    const path = file('runs.csv', ['setup,car,session,value', ...rows, ...more].join('\n'));
    const whole = JSON.parse(command([path]).out) as GroupFit;
    expect(whole).toMatchObject({ nIn: 11, nUsed: 11, setups: ['low', 'std', 'wide'], converged: true });
    expect(Object.keys(whole.components)).toEqual(['car', 'carLoop', 'session', 'residual']);
    expect([whole.estimates.length, whole.contrasts.length, whole.ranks.length]).toEqual([3, 3, 2]);
    const { code, out } = command([path, '--text']);
    expect(code).toBe(0);
    for (const part of [
      'runs: 11 read, 11 used, 0 excluded',
      'variance components (log scale)',
      'REML criterion',
      'low − std',
      'ranks (lowest first)',
      'connected by car:     {low, std, wide}',
      'not ranked: 1 of 2 runs',
      'car on a loop       0.000000000  none',
      'critical value',
    ]) {
      expect(out).toContain(part);
    }
  });

  it('names the rows that are wrong and exits 1', () => {
    const path = file('bad.csv', 'setup,value\na,12\n\n"b\nc",x\n,3\n');
    const { code, out, err } = command([path]);
    expect(code).toBe(1);
    expect(out).toBe('');
    expect(err).toMatch(/row 5, column value: 'x' is not a number/);
    expect(err).toMatch(/row 6, column setup: the cell is empty/);
  });

  it('exits 1 for a file that cannot be read and 64 for wrong usage', () => {
    expect(command([join(folder, 'none.csv')])).toMatchObject({ code: 1, out: '' });
    for (const args of [
      [],
      ['a.csv', 'b.csv'],
      ['a.csv', '--scale', 'root'],
      ['a.csv', '--colour'],
      ['a.csv', '--json', '--text'],
    ]) {
      const { code, err } = command(args);
      expect(code).toBe(64);
      expect(err).toContain('usage: npm run fit');
    }
  });
});
