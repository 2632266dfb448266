import { resolve } from 'node:path';
import { defineConfig } from 'vitest/config';

const root = resolve(import.meta.dirname, '..');
const alias = { '@': root };

// Two projects: `unit` needs nothing but Node; `integration` starts its own embedded PostgreSQL.
export default defineConfig({
  root,
  resolve: { alias },
  test: {
    projects: [
      {
        root,
        resolve: { alias },
        test: {
          name: 'unit',
          include: ['test/lib/**/*.test.ts', 'test/app/**/*.test.{ts,tsx}'],
          environment: 'node',
          // A busy machine must not fail a test that only computes.
          testTimeout: 30_000,
        },
      },
      {
        root,
        resolve: { alias },
        test: {
          name: 'integration',
          include: ['test/integration/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['test/helpers/clusterSetup.ts'],
          testTimeout: 60_000,
          hookTimeout: 120_000,
          maxWorkers: 2,
        },
      },
    ],
  },
});
