import { describe, expect, it } from 'vitest';
import { isOfEngine, methodLabel } from '@/lib/run/methodVersion';

describe('the label of a method version', () => {
  it('is the engine’s, with what was adopted in its world', () => {
    expect(methodLabel('1+priors1', null)).toBe('1+priors1');
    expect(methodLabel('1+priors1', { ordinal: 2, world: 'record' })).toBe('1+priors1+learned2');
    expect(methodLabel('1+priors1', { ordinal: 2, world: 'demo' })).toBe('1+priors1+demoLearned2');
    expect(methodLabel('1+priors1', { ordinal: 2, world: 'import:north' })).toBe(
      '1+priors1+import:north:learned2',
    );
  });

  it('tells which engine made a result', () => {
    expect(isOfEngine('1+priors1', '1+priors1')).toBe(true);
    expect(isOfEngine('1+priors1+learned3', '1+priors1')).toBe(true);
    expect(isOfEngine('1+priors12', '1+priors1')).toBe(false);
    expect(isOfEngine('0+priors1+learned3', '1+priors1')).toBe(false);
  });
});
