import { setTimeout as delay } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { boundedReport } from '@/lib/commands/serve/boundedReport';
import type { RunningChild } from '@/lib/commands/serve/childProcess';
import { restartDelayMs, supervise } from '@/lib/commands/serve/supervise';

/** A child without a process: it ends when it is told to, or killed. */
function child(): RunningChild & { end: (how: string) => void } {
  let end: (how: string) => void = () => undefined;
  const ended = new Promise<string>((resolve) => {
    end = resolve;
  });
  return { pid: 1, ended, end, kill: () => end('SIGKILL'), stop: async () => end('SIGTERM') };
}

const times = { shortestDelayMs: 1, longestDelayMs: 4, steadyMs: 10_000, askEveryMs: 1 };

function supervised(isWell?: () => Promise<boolean>) {
  const children: ReturnType<typeof child>[] = [];
  const said: string[] = [];
  const supervision = supervise({
    name: 'web process',
    start: () => {
      const started = child();
      children.push(started);
      return started;
    },
    isWell,
    say: (words) => said.push(words),
    times,
  });
  return { children, said, supervision };
}

describe('a supervised part', () => {
  it('waits twice as long for each restart that comes soon, up to half a minute', () => {
    expect([0, 1, 2, 5, 6, 40].map((soon) => restartDelayMs(soon))).toEqual([
      500, 1000, 2000, 16_000, 30_000, 30_000,
    ]);
  });

  it('is started again whenever it ends, and says how it ended', async () => {
    const { children, said, supervision } = supervised();
    for (let ends = 0; ends < 3; ends += 1) {
      children[ends]?.end(`exit code ${ends}`);
      await expect.poll(() => children.length).toBe(ends + 2);
    }
    expect(said.map((words) => words.replace(/.*\((.*)\).* in (.*)\./, '$1 $2'))).toEqual([
      'exit code 0 0.001 s',
      'exit code 1 0.002 s',
      'exit code 2 0.004 s',
    ]);
    await supervision.stop();
    await delay(20);
    expect(children).toHaveLength(4);
  });

  it('that is unwell four times on end is killed, and one that recovers is not', async () => {
    const answers = [false, false, false, true, false, false, false, false, true];
    const { children, said, supervision } = supervised(async () => answers.shift() ?? true);
    await expect.poll(() => children.length).toBe(2);
    expect(said[0]).toBe('The web process does not answer any more and is ended.');
    expect(said[1]).toContain('SIGKILL');
    // The ninth answer was asked of the new one.
    await expect.poll(() => answers.length).toBe(0);
    await supervision.stop();
  });
});

describe('an error that comes again and again', () => {
  it('is said once a minute, beside others', () => {
    const said: unknown[] = [];
    let now = 0;
    const report = boundedReport(
      (error) => said.push(error instanceof Error ? error.message : error),
      () => now,
    );
    for (; now < 120_000; now += 1_000) report(new Error('the database is away'));
    report(new Error('another'));
    expect(said).toEqual(['the database is away', 'the database is away', 'another']);
    for (let i = 0; i < 1_000; i += 1) report(new Error(`number ${i}`));
    expect(said.length).toBeLessThan(110);
  });
});
