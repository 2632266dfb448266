import { describe, expect, it } from 'vitest';
import { comparisonGroupKey, parseComparisonGroupKey } from '@/lib/run/comparisonGroup';
import { Conflict } from '@/lib/run/errors';
import {
  isWorldKey,
  joinedWorld,
  onlyWorldOf,
  type WorldKey,
  worldKey,
  worldTitle,
  worldWords,
} from '@/lib/run/world';

describe('the key of a world', () => {
  it.each(['record', 'demo', 'import:north', 'import:north-2-west'])('%s is one', (key) => {
    expect(isWorldKey(key)).toBe(true);
    expect(worldKey(key)).toBe(key);
  });

  it.each([
    '',
    'Record',
    'demo ',
    'true',
    'false',
    'import:',
    'import:-a',
    'import:a/b',
    'import:A',
    '__proto__',
  ])('"%s" is none', (key) => {
    expect(isWorldKey(key)).toBe(false);
    expect(() => worldKey(key)).toThrow('not the key of a world');
  });

  it('has words of its own', () => {
    expect([worldWords('record'), worldWords('demo'), worldWords('import:north')]).toEqual([
      'the record',
      'the demo world',
      'the registry north',
    ]);
    expect([worldTitle('record'), worldTitle('demo'), worldTitle('import:north')]).toEqual([
      'Record',
      'Demo world',
      'Registry north',
    ]);
  });

  it('stands in the key of a group, as it did before', () => {
    for (const world of ['record', 'demo', 'import:north'] as WorldKey[]) {
      const key = comparisonGroupKey('mph-70', world);
      expect(key).toBe(`${world}/mph-70`);
      expect(parseComparisonGroupKey(key)).toEqual({ world, cruiseClassKey: 'mph-70' });
    }
    expect(parseComparisonGroupKey('elsewhere/mph-70')).toBeUndefined();
    expect(parseComparisonGroupKey('demo/none')).toBeUndefined();
    expect(parseComparisonGroupKey('')).toBeUndefined();
  });
});

describe('things of several worlds', () => {
  it('belong to the one that is not the record', () => {
    expect(joinedWorld([])).toBe('record');
    expect(joinedWorld(['record', 'record'])).toBe('record');
    expect(joinedWorld(['record', 'demo', 'record', 'demo'])).toBe('demo');
    expect(joinedWorld(['import:north', 'record'])).toBe('import:north');
  });

  it('never join two others', () => {
    expect(() => joinedWorld(['demo', 'record', 'import:north'])).toThrow(Conflict);
  });

  it('are open to accounts of the record in all worlds, to others in their own', () => {
    expect(onlyWorldOf({})).toBeUndefined();
    expect(onlyWorldOf({ world: 'record' })).toBeUndefined();
    expect(onlyWorldOf({ world: 'demo' })).toBe('demo');
  });
});
