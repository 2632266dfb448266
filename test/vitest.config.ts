import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';
import { LongestFirst } from './helpers/longestFirst';

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
          testTimeout: 300_000,
          // One more than the cores of a small machine: what is killed and must come back mostly waits.
          maxWorkers: 3,
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
          maxWorkers: 3,
        },
      },
    ],
  },
});
