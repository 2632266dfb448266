import { basename } from 'node:path';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

/**
 * Files that take the longest, each first of its project: begun last, one of them keeps one core while the other waits.
 * On a clean clone the runner knows sizes only, and these are small ones that start servers or read whole worlds.
 */
const LONG = [
  'oneWord.test.ts',
  'schemaDifference.test.ts',
  'ensureServer.test.ts',
  'authorisation.test.ts',
  'firstRuns.test.ts',
  'reads.test.ts',
  'snapshots.test.ts',
  'corrections.test.ts',
  'longLists.test.ts',
];

export class LongestFirst extends BaseSequencer {
  override async sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    const sorted = await super.sort(files);
    const projects = [...new Set(sorted.map(({ project }) => project.name))];
    return projects.flatMap((name) =>
      sorted.filter(({ project }) => project.name === name).sort((a, b) => placeOf(a) - placeOf(b)),
    );
  }
}

function placeOf({ moduleId }: TestSpecification): number {
  const at = LONG.indexOf(basename(moduleId));
  return at < 0 ? LONG.length : at;
}
