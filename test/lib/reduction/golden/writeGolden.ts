import { existsSync, writeFileSync } from 'node:fs';
import { METHOD_VERSION } from '@/lib/physics/normalise';
import { GOLDEN_CASES } from './goldenCases';
import { goldenOutput } from './goldenOutput';
import { type GoldenCase, type GoldenTable, goldenPath, goldenText, readGolden } from './goldenTable';

// npx tsx test/lib/reduction/golden/writeGolden.ts: writes the table of the method version of today, or adds to it the
// cases that it lacks. A case that stands in a table is never written anew: a number that moved wants a new version.
const path = goldenPath(METHOD_VERSION);
const table: GoldenTable = existsSync(path)
  ? readGolden(METHOD_VERSION)
  : { methodVersion: METHOD_VERSION, cases: [] };
const known = new Set(table.cases.map(({ name }) => name));
const added = [...GOLDEN_CASES]
  .filter(([name]) => !known.has(name))
  .map(([name, input]): GoldenCase => ({ name, input, output: goldenOutput(input) }));
writeFileSync(path, goldenText({ ...table, cases: [...table.cases, ...added] }));
console.log(`${path}: ${known.size} cases stood, ${added.length} written`);
