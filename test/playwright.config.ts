import { resolve } from 'node:path';
import { defineConfig } from '@playwright/test';
import { browserAddress } from './helpers/browserWorld';
import { chromiumPath } from './helpers/chromium';

/**
 * What a small screen does not change: what asks over HTTP alone, what is kept of a reader's choices, figures (which set
 * widths of their own), a version that can be put in force once only, sheets and recordings that are read the same
 * everywhere, and an address that is asked. How pages fit a phone is tried in `pages.spec.ts`, which makes its window
 * wide and narrow itself: each page is loaded once for both.
 */
const ON_ANY_SCREEN = [
  'daySheet.spec.ts',
  'display.spec.ts',
  'estimate.spec.ts',
  'figures.spec.ts',
  'headers.spec.ts',
  'hostileInput.spec.ts',
  'importSheet.spec.ts',
  'oldRegistry.spec.ts',
  'pages.spec.ts',
  'protocolVersion.spec.ts',
  'recording.spec.ts',
  'refusals.spec.ts',
];

/** Not tried beside all others yet: a whole study takes a minute and more, on a day that others drive on as well. */
const ASKED_FOR = process.env.EVENLOOP_WHOLE_STUDY === undefined ? ['study.spec.ts'] : [];

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
    // Recording every test costs more than many a test; what failed leaves its picture and its page as text, and
    // `--trace on` records it the next time.
    trace: 'off',
    screenshot: 'only-on-failure',
    launchOptions: {
      executablePath: chromiumPath,
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
      testIgnore: [...ON_ANY_SCREEN, ...ASKED_FOR],
      use: { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true },
    },
    {
      name: 'desktop',
      // The field card is a phone's. The whole path is driven on one; its reviewer and its reader have a desktop's window.
      testIgnore: ['fieldCard.spec.ts', 'wholePath.spec.ts', 'study.spec.ts'],
      use: { viewport: { width: 1280, height: 800 } },
    },
  ],
  webServer: {
    command: 'node --import tsx test/helpers/serveWorlds.ts',
    cwd: resolve(import.meta.dirname, '..'),
    wait: { stdout: /Both registries are ready/ },
    timeout: 600_000,
    stdout: 'pipe',
    stderr: 'pipe',
    gracefulShutdown: { signal: 'SIGTERM', timeout: 30_000 },
  },
});
