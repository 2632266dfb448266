import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  estimateHref,
  estimateParams,
  estimateQuery,
  shownForm,
} from '@/app/(public)/estimate/estimateQuery';
import { nearestWords } from '@/app/(public)/estimate/Refused';
import { ESTIMATE_NUMBERS } from '@/lib/run/estimate/estimateFields';
import { parseEstimate } from '@/lib/run/estimate/parseEstimate';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';

const imperial: Display = {
  ...DEFAULT_PREFERENCES,
  distance: 'mi',
  temperature: 'degF',
  wind: 'mph',
  height: 'ft',
  mark: 'comma',
};
const askedOf = (form: Readonly<Record<string, string>>) => {
  const parsed = parseEstimate(form);
  if (!parsed.ok) throw new Error(JSON.stringify(parsed.issues));
  return parsed.asked;
};

describe('the address of an estimate', () => {
  it('shows what stands unless told in the reader’s units, and means the same when it is sent', () => {
    for (const display of [DEFAULT_PREFERENCES, imperial]) {
      const { form } = estimateQuery({}, display);
      const shown = shownForm(form, 110 / 3.6, display);
      const [empty, sent] = [askedOf(form), askedOf(shown)];
      for (const { name } of ESTIMATE_NUMBERS) {
        const [before, after] = [empty[name], name === 'speed' ? 30.5556 : sent[name]];
        // four digits of what is shown
        if (before !== undefined) expect(after, name).toBeCloseTo(before, before > 1000 ? -3 : 2);
      }
      expect(sent.speed).toBeCloseTo(110 / 3.6, 1);
    }
    const shown = shownForm(estimateQuery({}, imperial).form, 110 / 3.6, imperial);
    expect([shown.speed, shown.speedUnit, shown.air, shown.airUnit]).toEqual(['68,35', 'mph', '68', 'degF']);
  });

  it('keeps what was typed, with the unit that stands beside it', () => {
    const params = { speed: 'fast', air: '5', airUnit: 'degC', setup: 's', find: 'x', evil: 'y' };
    const { form, setupSlug } = estimateQuery(params, imperial);
    expect([form.speed, form.air, form.airUnit, setupSlug]).toEqual(['fast', '5', 'degC', 's']);
    expect(shownForm(form, undefined, imperial).speed).toBe('fast');
    expect(estimateParams(params)).toEqual({ setup: 's', speed: 'fast', air: '5', airUnit: 'degC' });
  });

  it('leads to a setup with what is known filled in', () => {
    expect(estimateHref({ setup: 'a', against: 'b', classKey: 'kmh-110' })).toBe(
      '/estimate?setup=a&against=b&class=kmh-110',
    );
    expect(estimateHref({})).toBe('/estimate');
  });
});

describe('the nearest condition that can be answered', () => {
  it('is offered on the side that was asked from, and within reach in every unit', () => {
    const conditions = ['airTemperatureC', 'cruiseSpeedMps', 'windSpeedMps', 'netClimbM'] as const;
    fc.assert(
      fc.property(
        fc.constantFrom(...conditions),
        fc.double({ min: 6, max: 30, noNaN: true }),
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        fc.boolean(),
        fc.constantFrom(DEFAULT_PREFERENCES, imperial),
        (condition, within, away, isAbove, display) => {
          // a descent of so many metres has five digits in feet
          const nearest = condition === 'netClimbM' ? -150 * within : within;
          const asked = isAbove ? nearest + away : nearest - away;
          const { changes } = nearestWords({ condition, asked, nearest }, display);
          const sent: Partial<Record<string, number>> = {};
          const asks = askedOf({ speed: '100', ...changes });
          for (const { name } of ESTIMATE_NUMBERS) sent[name] = asks[name];
          const [name = ''] = Object.keys(changes);
          const given = sent[name] ?? Number.NaN;
          if (isAbove) expect(given).toBeLessThanOrEqual(nearest + 1e-6);
          else expect(given).toBeGreaterThanOrEqual(nearest - 1e-6);
          expect(Math.abs(given - nearest)).toBeLessThan(condition === 'netClimbM' ? 1 : 0.2);
        },
      ),
    );
  });
});
