import { describe, expect, it } from 'vitest';
import { gradeAtLeast, gradeAtMost, isAtLeast, isAtMost } from '@/lib/protocol/grading';

describe('a limit that a value meets in decimal', () => {
  // IEEE 754 doubles: 0.7 + 0.1 lies just below 0.8, and 0.1 + 0.2 just above 0.3.
  const [below, above] = [0.7 + 0.1, 0.1 + 0.2];

  it('is met from either side whatever the binary digits', () => {
    expect(below).toBeLessThan(0.8);
    expect(isAtLeast(below, 0.8)).toBe(true);
    expect(gradeAtLeast(below, { pass: 0.8, caution: 0.5 })).toBe('pass');
    expect(above).toBeGreaterThan(0.3);
    expect(isAtMost(above, 0.3)).toBe(true);
    expect(gradeAtMost(above, { pass: 0.3, caution: 0.5 })).toBe('pass');
  });

  it('is missed by what any display could tell apart from it', () => {
    expect(isAtLeast(0.8 - 1e-8, 0.8)).toBe(false);
    expect(isAtMost(0.3 + 1e-8, 0.3)).toBe(false);
  });
});
