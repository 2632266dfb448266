import { describe, expect, it } from 'vitest';
import { compareHref, compareQuery } from '@/app/(public)/compare/compareQuery';

describe('the address of a comparison', () => {
  it('holds the setups in their order, the baseline first and none twice', () => {
    const query = compareQuery({ class: 'kmh-110', setup: ['b', 'a', 'b', ''] });
    expect(query.setupSlugs).toEqual(['b', 'a']);
    expect(query.classKey).toBe('kmh-110');
    expect(compareQuery({ setup: 'a' }).setupSlugs).toEqual(['a']);
  });

  it('falls back on 2 % and 80 % for what cannot be planned with', () => {
    const usual = { percent: 2, power: 0.8 };
    for (const params of [{}, { want: 'much', power: 'x' }, { want: '-1' }, { want: '0' }, { want: '99' }])
      expect(compareQuery(params).wanted).toEqual(usual);
    expect(compareQuery({ want: '1.5', power: '0.9' }).wanted).toEqual({ percent: 1.5, power: 0.9 });
  });

  it('changes one thing and keeps the rest', () => {
    const params = {
      class: 'kmh-110',
      setup: ['b', 'a'],
      unit: 'mi/kWh',
      mark: 'comma',
      wind: 'mph',
      other: 'x',
    };
    const href = compareHref(params, { class: 'kmh-130' });
    const next = new URL(href, 'http://reader.example').searchParams;
    expect(next.get('class')).toBe('kmh-130');
    expect(next.get('unit')).toBe('mi/kWh');
    expect([next.get('mark'), next.get('wind')]).toEqual(['comma', 'mph']);
    expect(next.getAll('setup')).toEqual(['b', 'a']);
    expect(next.has('other')).toBe(false);
    expect(compareHref({}, {})).toBe('/compare');
  });
});
