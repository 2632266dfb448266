import { basename, resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { BaseSequencer, type TestSpecification } from 'vitest/node';

const root = resolve(import.meta.dirname, '..');
const alias = { '@': root };

/** Put other modules or another environment in place of what is there: a module registry of their own each. */
const REPLACING = [
  'test/integration/platform/*.test.ts',
  'test/integration/pages/*.test.ts',
  'test/integration/demo/*.test.ts',
  'test/integration/registry/charging.test.ts',
  'test/integration/registry/factors.test.ts',
];
const onDatabase = {
  environment: 'node' as const,
  globalSetup: ['test/helpers/clusterSetup.ts'],
  testTimeout: 60_000,
  hookTimeout: 120_000,
  maxWorkers: 2,
};

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
  'coverageLost.test.ts',
  'coverage.test.ts',
  'youngCoverage.test.ts',
];

class LongestFirst extends BaseSequencer {
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

// `unit` needs nothing but Node; `integration` and `integration-apart` start an embedded PostgreSQL of their own; `slow` is what takes minutes:
// simulations and spawned commands; `slow-recovery`, on the built app, what is killed and must come back.
export default defineConfig({
  root,
  resolve: { alias },
  test: {
    // What one step has made of the modules, the next one reads: half of the processor time that loading them costs.
    experimental: { fsModuleCache: true },
    sequence: { sequencer: LongestFirst },
    projects: [
      {
        root,
        resolve: { alias },
        test: {
          name: 'unit',
          include: ['test/lib/**/*.test.ts', 'test/app/**/*.test.{ts,tsx}'],
          environment: 'node',
          // What is pure keeps nothing between files: one module registry a worker saves loading everything anew.
          isolate: false,
          // They share what is loaded natively, and their modules need not go from process to process.
          pool: 'threads',
          // A busy machine must not fail a test that only computes.
          testTimeout: 30_000,
          // Both cores of a small machine; left to itself, the runner keeps one for itself.
          maxWorkers: 2,
        },
      },
      {
        root,
        resolve: { alias },
        test: {
          name: 'integration',
          include: ['test/integration/**/*.test.ts'],
          exclude: REPLACING,
          // Each file has a database of its own, and none changes a module: they are loaded once a worker.
          isolate: false,
          ...onDatabase,
        },
      },
      {
        root,
        resolve: { alias },
        test: { name: 'integration-apart', include: REPLACING, ...onDatabase },
      },
      {
        root,
        resolve: { alias },
        test: {
          name: 'slow',
          include: ['test/slow/**/*.test.{ts,tsx}'],
          exclude: ['test/slow/recovery/**'],
          environment: 'node',
          // As pure as the quick ones, and as dear to load anew.
          isolate: false,
          testTimeout: 300_000,
          maxWorkers: 2,
        },
      },
      {
        root,
        resolve: { alias },
        test: {
          name: 'slow-recovery',
          include: ['test/slow/recovery/*.test.ts'],
          environment: 'node',
          globalSetup: ['test/helpers/builtApp.ts'],
          testTimeout: 300_000,
          // One more than the cores of a small machine: they mostly wait.
          maxWorkers: 3,
        },
      },
    ],
  },
});
