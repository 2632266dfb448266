import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { markCalledOnLoad } from '../../../lib/commands/serve/compileHints';

let built: string;

beforeEach(() => {
  built = mkdtempSync(join(tmpdir(), 'evenloop-built-'));
  writeFileSync(join(built, 'framework.js'), 'run();\n');
  writeFileSync(join(built, 'page.js'), 'draw();\n');
});

afterEach(() => rmSync(built, { recursive: true }));

const manifest = (files: object) => writeFileSync(join(built, 'build-manifest.json'), JSON.stringify(files));
const script = (name: string) => readFileSync(join(built, name), 'utf8');

it('marks what every page runs, once, and no other script', async () => {
  manifest({ rootMainFiles: ['framework.js'], polyfillFiles: ['page.js'] });
  await markCalledOnLoad(built);
  await markCalledOnLoad(built);
  // V8's documentation: the comment stands in the file's first line.
  expect(script('framework.js')).toBe('//# allFunctionsCalledOnLoad\nrun();\n');
  expect(script('page.js')).toBe('draw();\n');
});

it('stops a build whose scripts it does not know', async () => {
  manifest({ rootMainFiles: [] });
  await expect(markCalledOnLoad(built)).rejects.toThrow();
});
