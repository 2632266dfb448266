import { describe, expect, it } from 'vitest';
import { sessionPairs } from '@/lib/stats/sessionPairs';
import { publicRun } from './publicRun';

describe('same-session pairs', () => {
  const runs = [
    publicRun({
      number: 4,
      sessionId: 's2',
      date: '2026-05-02',
      normalisedWhPerKm: 220,
      measuredWhPerKm: 230,
    }),
    publicRun({ number: 5, sessionId: 's2', date: '2026-05-02', setupId: 'low', normalisedWhPerKm: 209 }),
    publicRun({ number: 1, sessionId: 's1', normalisedWhPerKm: 100 }),
    publicRun({ number: 3, sessionId: 's1', normalisedWhPerKm: 400 }),
    publicRun({ number: 2, sessionId: 's1', setupId: 'low', normalisedWhPerKm: 190, measuredWhPerKm: 210 }),
    publicRun({ number: 6, sessionId: 's3', setupId: 'low', normalisedWhPerKm: 180 }),
    publicRun({ number: 7, sessionId: 's4' }),
    publicRun({ number: 8, sessionId: 's4', setupId: 'low', normalisedWhPerKm: null }),
    publicRun({ number: 9, sessionId: 's4', setupId: 'eco', normalisedWhPerKm: 150 }),
  ];
  const pairs = sessionPairs(runs, 'base', 'low');

  it('takes sessions in which both have a normalised run, the earliest first', () => {
    expect(pairs.map((pair) => pair.sessionId)).toEqual(['s1', 's2']);
    expect(pairs[0]?.baseline.runNumbers).toEqual([1, 3]);
    expect(pairs[0]?.setup.runNumbers).toEqual([2]);
  });

  it('means runs of a side geometrically, as the fit does: √(100 · 400) = 200', () => {
    expect(pairs[0]?.baseline.normalisedWhPerKm).toBeCloseTo(200, 9);
    expect(pairs[0]?.normalisedPercent).toBeCloseTo(-5, 9);
    expect(pairs[0]?.rawPercent).toBeCloseTo(5, 9);
    expect(pairs[1]?.normalisedPercent).toBeCloseTo(-5, 9);
  });
});
