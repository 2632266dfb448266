import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, posix, resolve } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import pureRooms from '@/test/pureRooms.json';

const root = resolve(import.meta.dirname, '../../..');
const PURE = new RegExp(`^lib/(${pureRooms.join('|')})/`);

/** What computes nothing by itself all the same, each with the reason why it stays. */
const STAYS = new Map([
  ['lib/registry/registry.ts', 'the ports that every use case is given'],
  ['lib/registry/keyset.ts', 'reads its pages through a port'],
  ['lib/registry/factors/bounds.ts', 'how much the reads of this folder send to a page'],
  ['lib/registry/rankings/rankedSetup.ts', 'made of rows of the store, whose types no pure room knows'],
  ['lib/registry/runs/requireSubjects.ts', 'made of rows of the store, whose types no pure room knows'],
  ['lib/registry/traces/knownLoops.ts', 'made of rows of the store, whose types no pure room knows'],
]);

interface Import {
  from: string;
  isTypeOnly: boolean;
}

function importsOf(source: string): Import[] {
  const file = ts.createSourceFile('source.ts', source, ts.ScriptTarget.Latest, true);
  return file.statements.flatMap((statement) => {
    if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier)) return [];
    const named = statement.importClause?.namedBindings;
    const isTypeOnly =
      statement.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword ||
      (named !== undefined && ts.isNamedImports(named) && named.elements.every((one) => one.isTypeOnly));
    return [{ from: statement.moduleSpecifier.text, isTypeOnly }];
  });
}

const sources = new Map(
  readdirSync(join(root, 'lib/registry'), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => [`lib/registry/${file}`, readFileSync(join(root, 'lib/registry', file), 'utf8')]),
);

/** Whether what a file uses, and what that uses in turn, reaches anything but pure rooms. */
function reachesOut(path: string, read: ReadonlyMap<string, string>, seen = new Set<string>()): boolean {
  if (seen.has(path)) return false;
  seen.add(path);
  return importsOf(read.get(path) ?? '').some(({ from, isTypeOnly }) => {
    if (isTypeOnly || from === 'zod') return false;
    if (!from.startsWith('.') && !from.startsWith('@/')) return true;
    const to = from.startsWith('@/') ? from.slice(2) : posix.join(dirname(path), from);
    if (PURE.test(to)) return false;
    return read.has(`${to}.ts`) ? reachesOut(`${to}.ts`, read, seen) : true;
  });
}

describe('the registry', () => {
  it('holds no file that a pure room could own', () => {
    expect(sources.size).toBeGreaterThan(50);
    const pure = [...sources.keys()].filter((path) => !reachesOut(path, sources));
    expect(pure.sort()).toEqual([...STAYS.keys()].sort());
  });
});

describe('the search itself', () => {
  it('follows what is used, not what is only a type', () => {
    const read = new Map([
      ['lib/registry/a/reads.ts', "import { one } from '@/lib/store/runs';"],
      ['lib/registry/a/through.ts', "import { two } from './reads';\nimport { z } from 'zod';"],
      ['lib/registry/a/types.ts', "import { type Three } from '@/lib/store/runs';\nimport './pure';"],
      ['lib/registry/a/pure.ts', "import { four } from '@/lib/units/unit';"],
    ]);
    expect([...read.keys()].map((path) => reachesOut(path, read))).toEqual([true, true, false, false]);
  });
});
