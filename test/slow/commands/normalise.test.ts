import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { RunSimulation } from '@/lib/physics/monteCarlo';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import { exampleCase } from '../../lib/physics/exampleCase';

let folder: string;
let file: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'normalise-'));
  file = join(folder, 'run.json');
  writeFileSync(file, JSON.stringify(exampleCase()));
});
afterAll(() => rmSync(folder, { recursive: true }));

function command(args: string[], input = ''): { code: number | null; out: string; err: string } {
  const done = spawnSync('node', ['--import', 'tsx', 'lib/commands/normalise.ts', ...args], {
    input,
    encoding: 'utf8',
  });
  return { code: done.status, out: done.stdout, err: done.stderr };
}

describe('npm run normalise', { timeout: 60_000 }, () => {
  it('prints for a file what the engine gives, as JSON, and exits 0', () => {
    const { code, out, err } = command([file]);
    expect(err).toBe('');
    expect(code).toBe(0);
    expect(JSON.parse(out)).toEqual(JSON.parse(JSON.stringify(normaliseRun(exampleCase()))));
  });

  it('reads standard input, and simulates repeatably', () => {
    const args = ['-', '--monte-carlo', '--seed', '4', '--draws', '500'];
    const first = command(args, JSON.stringify(exampleCase()));
    const second = command(args, JSON.stringify(exampleCase()));
    expect(first.code).toBe(0);
    expect(first.out).toBe(second.out);
    const printed = JSON.parse(first.out) as NormalisedRun & { monteCarlo: RunSimulation };
    expect(printed.monteCarlo).toMatchObject({ draws: 500, seed: 4 });
  });

  it('prints a table with --text', () => {
    const { code, out } = command([file, '--text', '--monte-carlo', '--draws', '2000']);
    expect(code).toBe(0);
    for (const word of [
      'measured',
      'normalised',
      'wind',
      'budget',
      'Energy drawn',
      'simulated',
      '95 % interval',
    ]) {
      expect(out).toContain(word);
    }
  });

  it('prints the JSON Schema', () => {
    const { code, out } = command(['--schema']);
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({ type: 'object', properties: { run: { type: 'object' } } });
  });

  it('exits 1 with path and message for bad input', () => {
    const bad = command(
      [],
      JSON.stringify({ ...exampleCase(), run: { ...exampleCase().run, energyWh: -1 } }),
    );
    expect(bad.code).toBe(1);
    expect(bad.err).toMatch(/^run\.energyWh: /);
    expect(bad.out).toBe('');
    const noJson = command([], '{');
    expect(noJson.code).toBe(1);
    expect(noJson.err).toMatch(/^standard input: /);
    expect(command([join(folder, 'absent.json')]).code).toBe(1);
  });

  it('exits 2 with the reasons for a run outside reach', () => {
    const wet = { ...exampleCase(), run: { ...exampleCase().run, conditions: { precipitation: 'rain' } } };
    const { code, out, err } = command([], JSON.stringify(wet));
    expect(code).toBe(2);
    expect(err).toContain('raining');
    const printed = JSON.parse(out) as Record<string, unknown>;
    expect(printed.reach).toMatchObject({ ok: false });
    expect(printed).not.toHaveProperty('normalisedWhPerKm');
  });

  it('exits 64 for wrong usage', () => {
    for (const args of [
      ['--nonsense'],
      ['a.json', 'b.json'],
      [file, '--draws', '5'],
      [file, '--seed', 'x'],
    ]) {
      const { code, err } = command(args);
      expect(code).toBe(64);
      expect(err).toContain('usage:');
    }
  });
});
