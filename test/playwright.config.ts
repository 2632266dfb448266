import { resolve } from 'node:path';
import { defineConfig } from '@playwright/test';
import { browserAddress } from './helpers/browserWorld';

const artifacts = resolve(import.meta.dirname, '.artifacts');

export default defineConfig({
  testDir: './e2e',
  outputDir: resolve(artifacts, 'browser'),
  // The tests share one server and its database; two at a time is what two cores carry.
  workers: 2,
  fullyParallel: false,
  forbidOnly: true,
  timeout: 60_000,
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
      // A version is published once.
      testIgnore: 'protocolVersion.spec.ts',
      use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    },
    {
      name: 'desktop',
      // The field card is a phone's.
      testIgnore: 'fieldCard.spec.ts',
      use: { viewport: { width: 1280, height: 800 } },
    },
  ],
  webServer: {
    command: 'node --import tsx test/helpers/serveBrowserWorld.ts',
    cwd: resolve(import.meta.dirname, '..'),
    url: `${browserAddress}/api/health`,
    timeout: 240_000,
    reuseExistingServer: false,
    stdout: 'pipe',
    stderr: 'pipe',
    gracefulShutdown: { signal: 'SIGTERM', timeout: 30_000 },
  },
});
