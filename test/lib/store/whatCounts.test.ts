import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';

/** What counts is said once: everyone else reads the rows that follow from it. */
const THE_ONE_PLACE = join('lib', 'store', 'countedRuns.ts');
/**
 * They ask for approved runs and read no result: one moves an approval on to a corrected revision, one judges them by a
 * draft of the protocol, one lists what can be retracted, one counts an allowance.
 */
const READ_NO_RESULT = ['correctedRevisions.ts', 'dryRuns.ts', 'manyRuns.ts', 'submissions.ts'].map((name) =>
  join('lib', 'store', name),
);
/** A query for approved runs, in Prisma's words or in SQL. */
const SAYS_WHAT_COUNTS = /status:\s*'approved'|"status"\s*=\s*'approved'/;

const sources = ['lib/store', 'lib/registry', 'app'].flatMap((room) =>
  readdirSync(room, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.tsx?$/.test(name))
    .map((name) => join(room, name)),
);

describe('which results count', () => {
  it('is said in one place', () => {
    expect(sources.length).toBeGreaterThan(300);
    const found = sources.filter((path) => SAYS_WHAT_COUNTS.test(readFileSync(path, 'utf8')));
    expect(found.sort()).toEqual([THE_ONE_PLACE, ...READ_NO_RESULT].sort());
  });
});
