import { resolve } from 'node:path';
import { defineConfig } from '@playwright/test';
import { browserAddress, oldRegistryAddress } from './helpers/browserWorld';

/** What asks over HTTP alone, without a page in a browser. */
const OVER_HTTP = ['oldRegistry.spec.ts', 'hostileInput.spec.ts'];

const artifacts = resolve(import.meta.dirname, '.artifacts');

export default defineConfig({
  testDir: './e2e',
  outputDir: resolve(artifacts, 'browser'),
  // The tests share one server and its database; two at a time is what two cores carry.
  workers: 2,
  fullyParallel: false,
  forbidOnly: true,
  timeout: 150_000,
  expect: { timeout: 10_000 },
  reporter: [['list'], ['json', { outputFile: resolve(artifacts, 'browser.json') }]],
  use: {
    baseURL: browserAddress,
    locale: 'en-GB',
    timezoneId: 'UTC',
    trace: 'retain-on-failure',
    screenshot: 'only-on-failure',
    launchOptions: {
      executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-quic',
        '--disable-background-networking',
        '--no-first-run',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
  projects: [
    {
      name: 'phone',
      // Answers over HTTP are the same whatever the screen.
      testIgnore: OVER_HTTP,
      use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    },
    {
      name: 'desktop',
      // The field card is a phone's.
      testIgnore: 'fieldCard.spec.ts',
      use: { viewport: { width: 1280, height: 800 } },
    },
  ],
  // One after the other: the second finds the app built.
  webServer: [
    appServer('test/helpers/serveBrowserWorld.ts', browserAddress),
    appServer('test/helpers/serveOldRegistry.ts', oldRegistryAddress),
  ],
});

function appServer(script: string, address: string) {
  return {
    command: `node --import tsx ${script}`,
    cwd: resolve(import.meta.dirname, '..'),
    url: `${address}/api/health`,
    timeout: 600_000,
    reuseExistingServer: false,
    stdout: 'pipe' as const,
    stderr: 'pipe' as const,
    gracefulShutdown: { signal: 'SIGTERM' as const, timeout: 30_000 },
  };
}
