import fc from 'fast-check';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { boundErrors } from '@/lib/commands/log/boundErrors';
import { Repeats } from '@/lib/commands/log/repeats';

const LIMITS = { windowMs: 60_000, most: 3 };

describe('messages that come again', () => {
  it('are printed once a window and then counted', () => {
    const repeats = new Repeats(LIMITS);
    const printed = Array.from({ length: 1000 }, (_, i) => repeats.admit('it broke', 1000 + i).isPrinted);
    expect(printed.filter(Boolean)).toHaveLength(1);
    expect(repeats.summaryAt(30_000)).toEqual([]);
    expect(repeats.summaryAt(61_000)).toEqual([{ message: 'it broke', times: 999 }]);
    expect(repeats.summaryAt(61_001)).toEqual([]);
    expect(repeats.admit('it broke', 62_000)).toEqual({ isPrinted: true, summary: [] });
  });

  it('count as one where only numbers, ids and digests differ', () => {
    const repeats = new Repeats(LIMITS);
    expect(repeats.admit('run 12, request 018f-00aa, digest 99ab', 0).isPrinted).toBe(true);
    expect(repeats.admit('run 7, request 118e-77bc, digest 1234', 1).isPrinted).toBe(false);
    expect(repeats.admit('a loop 7', 2).isPrinted).toBe(true);
  });

  it('beyond the most that are told apart are only counted', () => {
    const repeats = new Repeats(LIMITS);
    const messages = ['one', 'two', 'three', 'four', 'five', 'one'];
    expect(messages.map((message) => repeats.admit(message, 0).isPrinted)).toEqual([
      true,
      true,
      true,
      false,
      false,
      false,
    ]);
    expect(repeats.admit('six', 60_000).summary).toEqual([
      { message: 'one', times: 1 },
      { message: '', times: 2 },
    ]);
  });

  it('never print more than the most in a window, and lose none from the count', () => {
    const events = fc.array(
      fc.record({ message: fc.constantFrom('a', 'b', 'c', 'd', 'e', '__proto__'), waitMs: fc.nat(9000) }),
      { maxLength: 200 },
    );
    fc.assert(
      fc.property(events, (all) => {
        const repeats = new Repeats(LIMITS);
        let nowMs = 0;
        let printed = 0;
        let told = 0;
        let windows = 1;
        for (const { message, waitMs } of all) {
          nowMs += waitMs;
          const { isPrinted, summary } = repeats.admit(message, nowMs);
          printed += isPrinted ? 1 : 0;
          told += summary.reduce((sum, { times }) => sum + times, 0);
        }
        windows += Math.floor(nowMs / LIMITS.windowMs);
        told += repeats.summaryAt(Number.POSITIVE_INFINITY).reduce((sum, { times }) => sum + times, 0);
        expect(printed + told).toBe(all.length);
        expect(printed).toBeLessThanOrEqual(windows * LIMITS.most);
      }),
    );
  });
});

describe('a process whose errors are bounded', () => {
  afterEach(() => vi.restoreAllMocks());

  it('prints an error that every request meets once, shortened, and how often it came again', () => {
    const lines: string[] = [];
    vi.spyOn(console, 'error').mockImplementation((line: string) => void lines.push(line));
    let nowMs = 0;
    const undo = boundErrors(() => nowMs);
    for (let i = 0; i < 500; i++) console.error(new Error('the draft is poisoned'), { request: i });
    console.error('x'.repeat(20_000));
    nowMs = 61_000;
    console.error('another');
    undo();
    expect(lines).toHaveLength(4);
    expect(lines[0]).toContain('the draft is poisoned');
    expect(lines[1]?.length).toBeLessThan(9000);
    expect(lines[2]).toContain('499 more in the last minute');
    expect(lines[3]).toBe('another');
  });
});
