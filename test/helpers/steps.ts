import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { chromiumPath } from './chromium';

export type Count = {
  readonly step: string;
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
  readonly seconds: number;
};

type Environment = Record<string, string | undefined>;

/** What a user's shell may hold must not steer a test: each step sets what it needs. */
const steering = [
  'DATABASE_URL',
  'TEST_DATABASE_URL',
  'EVENLOOP_DATABASE',
  'EVENLOOP_DATA',
  'NEXTAUTH_URL',
  'PORT',
];

/** A step without counts of its own: passed or failed by its exit code. */
export async function runCheck(step: string, command: string[]): Promise<Count> {
  const { code, seconds } = await run(step, command);
  return { step, passed: code === 0 ? 1 : 0, failed: code === 0 ? 0 : 1, skipped: 0, seconds };
}

export async function runVitest(
  step: string,
  project: 'unit' | 'integration*' | 'slow' | 'slow-recovery',
  options: { only?: readonly string[]; environment?: Environment } = {},
): Promise<Count> {
  const report = `test/.artifacts/vitest-${project.replace('*', '')}${options.environment ? '-plain' : ''}.json`;
  const { code, seconds } = await run(
    step,
    [
      ...['npx', 'vitest', 'run', '--config', 'test/vitest.config.ts', '--project', project],
      ...['--reporter=default', '--reporter=json', `--outputFile.json=${report}`],
      ...(options.only ?? []),
    ],
    options.environment,
  );
  const result = readReport(report);
  return withExitCode(code, {
    step,
    passed: count(result, 'numPassedTests'),
    failed: count(result, 'numFailedTests'),
    skipped: count(result, 'numPendingTests') + count(result, 'numTodoTests'),
    seconds,
  });
}

export async function runBrowserTests(): Promise<Count> {
  const step = 'Browser tests';
  if (!existsSync(chromiumPath)) {
    console.log(
      `\n── ${step}: no browser at ${chromiumPath}. Install it: sudo apt-get install -y chromium-headless-shell ──`,
    );
    return { step, passed: 0, failed: 1, skipped: 0, seconds: 0 };
  }
  const { code, seconds } = await run(step, [
    'npx',
    'playwright',
    'test',
    '--config',
    'test/playwright.config.ts',
  ]);
  const stats = readReport('test/.artifacts/browser.json').stats;
  return withExitCode(code, {
    step,
    passed: count(stats, 'expected'),
    // A test that passes only at the second attempt did fail.
    failed: count(stats, 'unexpected') + count(stats, 'flaky'),
    skipped: count(stats, 'skipped'),
    seconds,
  });
}

/** A runner may fail outside any test (a file that does not load, an error nobody awaited). */
function withExitCode(code: number, counted: Count): Count {
  const ranNothing = counted.passed + counted.failed === 0;
  return (code !== 0 || ranNothing) && counted.failed === 0 ? { ...counted, failed: 1 } : counted;
}

function readReport(file: string): Record<string, unknown> {
  return existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : {};
}

function count(from: unknown, key: string): number {
  const value = typeof from === 'object' && from !== null ? Reflect.get(from, key) : undefined;
  return typeof value === 'number' ? value : 0;
}

async function run(
  step: string,
  [program = '', ...args]: string[],
  environment: Environment = {},
): Promise<{ code: number; seconds: number }> {
  console.log(`\n── ${step} ──`);
  const started = performance.now();
  const cleared = Object.fromEntries(steering.map((name) => [name, undefined]));
  const child = spawn(program, args, {
    stdio: 'inherit',
    env: { ...process.env, ...cleared, ...environment },
  });
  const code = await new Promise<number>((resolve) => {
    child.once('error', (error) => {
      console.error(error.message);
      resolve(1);
    });
    child.once('exit', (exitCode) => resolve(exitCode ?? 1));
  });
  const seconds = (performance.now() - started) / 1000;
  console.log(
    `── ${step}: ${code === 0 ? 'done' : `failed (exit code ${code})`} in ${seconds.toFixed(1)} s ──`,
  );
  return { code, seconds };
}
