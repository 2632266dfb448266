import { describe, expect, it } from 'vitest';
import { InvalidInput } from '@/lib/run/errors';
import { PLAN_DEFAULTS, parsePlanForm, readPlanForm, setupFieldName } from '@/lib/study/planForm';

const form = { ...PLAN_DEFAULTS, question: 'Is it so?', baselineId: 'a', [setupFieldName('b')]: 'yes' };
const paths = (changes: Record<string, string>) =>
  readPlanForm({ ...form, ...changes }).issues.map(({ path }) => path);

describe('the form of a plan', () => {
  it('is read as it is filled in, with either decimal mark', () => {
    expect(parsePlanForm({ ...form, wantedPercent: '1,5', power: '0.9', firstDay: '2026-12-01' })).toEqual({
      question: 'Is it so?',
      baselineId: 'a',
      otherIds: ['b'],
      wantedPercent: 1.5,
      power: 0.9,
      runsADay: 4,
      days: 4,
      betweenRunsMin: 15,
      pricePerKwh: null,
      calendar: { firstDay: '2026-12-01', everyDays: 7 },
    });
  });

  it('leaves the baseline out of the others, and what is not ticked', () => {
    const { asked } = readPlanForm({ ...form, [setupFieldName('a')]: 'yes', [setupFieldName('c')]: '' });
    expect(asked.otherIds).toEqual(['b']);
    expect(asked.calendar).toBeNull();
  });

  it('names the field of what is wrong', () => {
    expect(paths({})).toEqual([]);
    expect(paths({ days: '' })).toEqual(['days']);
    expect(paths({ days: '2.5' })).toEqual(['days']);
    expect(paths({ days: '400' })).toEqual(['days']);
    expect(paths({ runsADay: '1' })).toEqual(['runsADay']);
    expect(paths({ wantedPercent: 'x' })).toEqual(['wantedPercent']);
    expect(paths({ baselineId: '' })).toEqual(['baselineId']);
    expect(paths({ firstDay: '2026-02-30' })).toEqual(['firstDay']);
    expect(paths({ firstDay: 'soon' })).toEqual(['firstDay']);
    const many = Object.fromEntries('cdefghijk'.split('').map((id) => [setupFieldName(id), 'yes']));
    expect(paths(many)).toEqual(['setups']);
    expect(() => parsePlanForm({ ...form, days: '' })).toThrow(InvalidInput);
  });
});
