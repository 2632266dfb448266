import { describe, expect, it } from 'vitest';
import { refitText } from '@/app/(public)/rankings/refitText';

const job = {
  state: 'queued',
  queuedAt: new Date('2026-11-01T12:00:00Z'),
  runAfter: new Date('2026-11-01T12:00:16Z'),
  startedAt: new Date('2026-11-01T12:01:00Z'),
  finishedAt: new Date('2026-11-01T12:02:00Z'),
  attempts: 0,
  error: null,
} as const;

describe('the state of a refit', () => {
  it('is said with its time, and with the error where it failed', () => {
    const error = 'the matrix is singular';
    expect(refitText(null)).toBe('none on record');
    expect(refitText(job)).toBe('waiting since 1\u00A0Nov\u00A02026, 12:00');
    expect(refitText({ ...job, state: 'running' })).toBe('running since 1\u00A0Nov\u00A02026, 12:01');
    expect(refitText({ ...job, state: 'done' })).toBe('finished 1\u00A0Nov\u00A02026, 12:02');
    expect(refitText({ ...job, state: 'failed', error })).toBe(
      `failed at 1\u00A0Nov\u00A02026, 12:02: ${error}`,
    );
    expect(refitText({ ...job, attempts: 1, error })).toBe(
      `failed once (${error}), tried again from 1\u00A0Nov\u00A02026, 12:00`,
    );
    expect(refitText({ ...job, attempts: 2, error })).toContain('failed 2 times');
  });

  it('of a process that died has no time of finishing', () => {
    expect(refitText({ ...job, state: 'failed', finishedAt: null, error: 'the process ended' })).toBe(
      'failed at 1\u00A0Nov\u00A02026, 12:00: the process ended',
    );
  });
});
