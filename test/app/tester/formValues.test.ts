import { describe, expect, it } from 'vitest';
import {
  changedNames,
  idOfPath,
  inFormOrder,
  runFormOf,
  standingIssues,
  startingValues,
} from '@/app/(tester)/record/formValues';
import { parseRunForm } from '@/lib/run/parseRunForm';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';

describe('the names of the run form', () => {
  it('are unique and within what a draft may hold', () => {
    expect(new Set(RUN_FORM_NAMES).size).toBe(RUN_FORM_NAMES.length);
    expect(RUN_FORM_NAMES.length).toBeLessThanOrEqual(200);
  });

  it('hold every field that the parser asks for', () => {
    const parsed = parseRunForm({}, { now: '2026-01-01T00:00:00.000Z' });
    const paths = parsed.ok ? [] : parsed.issues.map((issue) => issue.path);
    expect(paths.length).toBeGreaterThan(15);
    expect(paths.filter((path) => !RUN_FORM_NAMES.includes(path))).toEqual([]);
  });
});

describe('the draft in a posted form', () => {
  it('leaves buttons, files, the framework and empty fields out', () => {
    const data = new FormData();
    data.set('tripDistance', '52.70');
    data.set('tripDistanceUnit', 'mi');
    data.set('tripEnergy', '');
    data.set('intent', 'submit');
    data.set('$ACTION_ID_1', 'x');
    data.set('role', 'steward');
    data.set('evidence.other', new File(['x'], 'x.jpg'));
    expect(runFormOf(data)).toEqual({ tripDistance: '52.70', tripDistanceUnit: 'mi' });
  });
});

describe('what the fields open with', () => {
  it('keeps a typed unit, then takes the remembered one, then the first of the field', () => {
    const values = startingValues(
      { tripDistance: '52.7', tripDistanceUnit: 'mi' },
      { tripDistance: 'km', tripEfficiency: 'mi/kWh', trueSpeed: 'parsec' },
    );
    expect(values.tripDistance).toBe('52.7');
    expect(values.tripDistanceUnit).toBe('mi');
    expect(values.tripEfficiencyUnit).toBe('mi/kWh');
    expect(values.trueSpeedUnit).toBe('km/h');
  });

  it('drops what is no field of the form', () => {
    expect(startingValues({ stray: 'x' }, {})).not.toHaveProperty('stray');
  });
});

it('tells by name where two drafts differ, a missing and an empty field being the same', () => {
  expect(changedNames({ notes: '', chargeEnd: '20' }, { chargeEnd: '21' })).toEqual(['chargeEnd']);
});

it('puts issues in the order of the fields and what belongs to none last', () => {
  const issues = ['unknown', 'windSpeed', 'evidence.startDisplay', 'carId', 'tripDistance', 'trueSpeed'];
  expect(inFormOrder(issues.map((path) => ({ path }))).map((issue) => issue.path)).toEqual([
    'carId',
    'trueSpeed',
    'tripDistance',
    'windSpeed',
    'evidence.startDisplay',
    'unknown',
  ]);
});

it('leads from the issue of a unit to its number', () => {
  expect(idOfPath('trueSpeedUnit')).toBe('trueSpeed');
  expect(idOfPath('notes')).toBe('notes');
});

it('holds nothing against a field that was changed since it was sent, be it by its unit', () => {
  const issues = ['trueSpeed', 'chargeEndUnit', 'windSpeed', 'evidence.startDisplay'].map((path) => ({
    path,
  }));
  const sent = { trueSpeedUnit: 'km/h', windSpeed: '3', windSpeedUnit: 'm/s', notes: 'a' };
  const paths = (now: typeof sent & Record<string, string>) =>
    standingIssues(issues, sent, now).map(({ path }) => path);
  expect(paths({ ...sent, notes: 'b' })).toEqual(issues.map(({ path }) => path));
  expect(paths({ ...sent, trueSpeed: '110.2' })).not.toContain('trueSpeed');
  expect(paths({ ...sent, windSpeedUnit: 'kn' })).toEqual([
    'trueSpeed',
    'chargeEndUnit',
    'evidence.startDisplay',
  ]);
  const lines = standingIssues([{ path: 'notes' }], { notes: 'a\r\nb' }, { notes: 'a\nb' });
  expect(lines).toEqual([{ path: 'notes' }]);
});
