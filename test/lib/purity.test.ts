import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import pureRooms from '@/test/pureRooms.json';

const root = resolve(import.meta.dirname, '../..');

/**
 * Names whose use makes a result depend on something other than the arguments. `Date` is allowed as a type
 * and with an argument (`new Date(text)` is arithmetic); without one it is a clock.
 */
function impurities(source: string, fileName = 'source.ts'): string[] {
  const file = ts.createSourceFile(fileName, source, ts.ScriptTarget.Latest, true);
  const found: string[] = [];
  const report = (node: ts.Node, what: string) => {
    found.push(`${fileName}:${file.getLineAndCharacterOfPosition(node.getStart()).line + 1} ${what}`);
  };
  const declared = declaredNames(file);
  const visit = (node: ts.Node): void => {
    const access = ts.isPropertyAccessExpression(node)
      ? `${node.expression.getText()}.${node.name.text}`
      : '';
    if (
      ['Math.random', 'Date.now', 'performance.now', 'crypto.randomUUID', 'crypto.getRandomValues'].includes(
        access,
      )
    )
      report(node, access);
    if (ts.isNewExpression(node) && node.expression.getText() === 'Date' && !node.arguments?.length)
      report(node, 'new Date()');
    if (
      ts.isCallExpression(node) &&
      ['Date', 'fetch', 'setTimeout', 'setInterval'].includes(node.expression.getText())
    )
      report(node, `${node.expression.getText()}()`);
    if (ts.isIdentifier(node) && isEnvironment(node) && !declared.has(node.text)) report(node, node.text);
    ts.forEachChild(node, visit);
  };
  ts.forEachChild(file, visit);
  return found;
}

const environmentNames = new Set(['process', 'globalThis', 'window', 'document', 'localStorage']);

/** A name of the environment used as a value: not the name of a field. */
function isEnvironment(node: ts.Identifier): boolean {
  if (!environmentNames.has(node.text)) return false;
  const { parent } = node;
  const isField =
    (ts.isPropertyAccessExpression(parent) ||
      ts.isPropertyAssignment(parent) ||
      ts.isPropertySignature(parent)) &&
    parent.name === node;
  return !isField;
}

/** What a file calls so itself, a `window` of time for example, is not the environment's. */
function declaredNames(file: ts.SourceFile): Set<string> {
  const names = new Set<string>();
  const visit = (node: ts.Node): void => {
    const isDeclaration = ts.isVariableDeclaration(node) || ts.isParameter(node) || ts.isBindingElement(node);
    if (isDeclaration && ts.isIdentifier(node.name)) names.add(node.name.text);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return names;
}

describe('the pure rooms', () => {
  it.each(pureRooms)('lib/%s takes neither clock, chance nor environment', (room) => {
    const files = readdirSync(join(root, 'lib', room), { recursive: true, encoding: 'utf8' }).filter((file) =>
      /\.tsx?$/.test(file),
    );
    // An empty list would pass for the wrong reason.
    expect(files.length).toBeGreaterThan(0);
    const found = files.flatMap((file) => {
      const path = join('lib', room, file);
      return impurities(readFileSync(join(root, path), 'utf8'), path);
    });
    expect(found).toEqual([]);
  });
});

describe('the scan itself', () => {
  it('finds what it is meant to find', () => {
    const source = [
      'const a = Math.random();',
      'const b = Date.now();',
      'const c = new Date();',
      'const d = process.env.HOME;',
      'const e = Date();',
      'const f = performance.now();',
    ].join('\n');
    expect(impurities(source)).toEqual([
      'source.ts:1 Math.random',
      'source.ts:2 Date.now',
      'source.ts:3 new Date()',
      'source.ts:4 process',
      'source.ts:5 Date()',
      'source.ts:6 performance.now',
    ]);
  });

  it('lets dates with an argument, words in comments and fields of that name pass', () => {
    const source = [
      '// process and Math.random() are only mentioned',
      'const at = new Date(text);',
      'const steps = { process: 1 };',
      'const n = job.process;',
      'const inside = (window: Window) => window.from;',
    ].join('\n');
    expect(impurities(source)).toEqual([]);
  });
});
