import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { differencesBetween } from '@/lib/protocol/compareVersions';
import { editedLimits } from '@/lib/protocol/draft/editLimits';
import { LIMIT_PARTS, type LimitForm, limitForm } from '@/lib/protocol/draft/limitForm';
import { PARAMETER_FIELDS } from '@/lib/protocol/parameterFields';
import type { ProtocolParameters } from '@/lib/protocol/parameters';
import { safeReadStoredParameters } from '@/lib/protocol/stored';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { PROTOCOL_V2 } from '@/lib/protocol/versions/v2';
import { PROTOCOL_V3 } from '@/lib/protocol/versions/v3';
import { NEWEST, RULES_AFTER_ONE, VERSION_ONE } from './versionsUnderTest';

const PARTS = [...LIMIT_PARTS.values()];
const VERSIONS = [VERSION_ONE, PROTOCOL_V1, PROTOCOL_V2, PROTOCOL_V3, NEWEST];

/** As a browser would post the form of a part. */
function posted({ rules, entries }: LimitForm): Map<string, string> {
  return new Map([
    ...rules.flatMap(({ name, isIn, isAlwaysIn }) => (isIn && !isAlwaysIn ? [[name, 'yes'] as const] : [])),
    ...[...rules.flatMap((each) => each.entries), ...entries].flatMap((entry) => [
      [entry.name, entry.text] as const,
      [entry.afterwardsName, entry.afterwards] as const,
    ]),
  ]);
}

function edit(parameters: ProtocolParameters, part: (typeof PARTS)[number], changes: [string, string][]) {
  return editedLimits(parameters, part, new Map([...posted(limitForm(parameters, part)), ...changes]));
}

function accepted(...of: Parameters<typeof edit>): ProtocolParameters {
  const edited = edit(...of);
  if (!edited.ok) throw new RangeError(edited.issues.map(({ path, what }) => `${path}: ${what}`).join(' '));
  return edited.parameters;
}

describe('the limits of a draft', () => {
  it.each(VERSIONS.map((version) => [version.label, version.parameters] as const))(
    'stay to the last bit where a form of %s is sent as it was shown',
    (_label, parameters) => {
      for (const part of PARTS) expect(accepted(parameters, part, [])).toEqual(parameters);
    },
  );

  it('each stands in exactly one form', () => {
    const names = PARTS.flatMap((part) => {
      const { rules, entries } = limitForm(NEWEST.parameters, part);
      return [...rules.flatMap((each) => each.entries), ...entries].map(({ path }) => path);
    });
    expect(new Set(names).size).toBe(names.length);
    expect(names.sort()).toEqual(PARAMETER_FIELDS.map(({ path }) => path).sort());
  });

  it('are entered in the unit that they are shown in', () => {
    const next = accepted(NEWEST.parameters, 'Conditions', [
      ['limit.wind.passUpToMps', '4,5'],
      ['limit.stationDistance.cautionUpToM', '60'],
      ['limit.airTemperature.cautionFromC', '-10'],
    ]);
    expect(next.wind).toEqual({ passUpToMps: 4.5, cautionUpToMps: 8 });
    expect(next.stationDistance).toEqual({ passUpToM: 30_000, cautionUpToM: 60_000 });
    expect(next.airTemperature?.cautionFromC).toBe(-10);
    const { changes } = differencesBetween(NEWEST, { label: 'draft', parameters: next });
    expect(changes.map(({ path }) => path)).toEqual([
      'airTemperature.cautionFromC',
      'wind.passUpToMps',
      'stationDistance.cautionUpToM',
    ]);
  });

  it('differ for runs recorded afterwards where that is entered, and no longer where it is emptied', () => {
    const name = 'afterwards.wind.passUpToMps';
    const apart = accepted(NEWEST.parameters, 'Conditions', [[name, '4']]);
    expect(apart.retrospective?.limits?.wind).toEqual({ passUpToMps: 4 });
    expect(apart.wind).toEqual(NEWEST.parameters.wind);
    expect(accepted(apart, 'Conditions', [[name, '']])).toEqual(NEWEST.parameters);
  });

  it('are refused beside their field: not a number, out of reach, below what they must enclose', () => {
    const refused = (changes: [string, string][]) => {
      const edited = edit(NEWEST.parameters, 'Conditions', changes);
      return edited.ok ? [] : edited.issues.map(({ path, what, fix }) => [path, what, fix]);
    };
    expect(refused([['limit.wind.passUpToMps', 'calm']])).toEqual([
      ['limit.wind.passUpToMps', '“Mean wind, pass up to” is not a number.', 'Enter one, for example 24.6.'],
    ]);
    expect(refused([['limit.wind.passUpToMps', '-1']])).toMatchObject([
      [
        'limit.wind.passUpToMps',
        expect.stringContaining('too low'),
        expect.stringMatching(/^Enter 0.m\/s or more\.$/u),
      ],
    ]);
    expect(refused([['limit.wind.cautionUpToMps', '3']])).toMatchObject([
      ['limit.wind.cautionUpToMps', expect.stringContaining('is below'), expect.any(String)],
    ]);
    expect(refused([['afterwards.wind.passUpToMps', '12']])).toMatchObject([
      [expect.stringContaining('wind.'), expect.stringContaining('is below'), expect.any(String)],
    ]);
    expect(refused([['limit.road.dry', 'perhaps']])).toMatchObject([
      ['limit.road.dry', expect.stringContaining('is not chosen'), 'Choose one of the list.'],
    ]);
    const ranking = edit(NEWEST.parameters, 'further', [['limit.ranking.runs', '2.5']]);
    expect(ranking).toMatchObject({
      ok: false,
      issues: [{ path: 'limit.ranking.runs', fix: 'Enter a whole number.' }],
    });
  });

  it('come with a rule that is added, and go with one that is left out, but for what others read', () => {
    let parameters: ProtocolParameters = VERSION_ONE.parameters;
    for (const part of PARTS) {
      const all = limitForm(parameters, part).rules.map(({ name }) => [name, 'yes'] as [string, string]);
      parameters = accepted(parameters, part, all);
    }
    const grown = differencesBetween(VERSION_ONE, { label: 'draft', parameters });
    expect(grown.added.map(({ id }) => id)).toEqual(RULES_AFTER_ONE);
    const without = accepted(NEWEST.parameters, 'Record', [
      ['rule.recorded-as-driven', ''],
      ['rule.copied-readings', ''],
    ]);
    expect(without.copies).toBeUndefined();
    // fourteen other rules ask what a missing note counts as afterwards
    expect(without.retrospective?.whenMissing).toBe(NEWEST.parameters.retrospective?.whenMissing);
    const shrunk = differencesBetween(NEWEST, { label: 'draft', parameters: without });
    expect(shrunk.dropped.map(({ id }) => id).sort()).toEqual(['copied-readings', 'recorded-as-driven']);
    expect(shrunk.added).toEqual([]);
  });

  it('can be judged by whatever is typed, or are refused', () => {
    const entries = PARTS.flatMap((part) => {
      const form = limitForm(NEWEST.parameters, part);
      return [...form.rules.flatMap((each) => each.entries), ...form.entries].flatMap((entry) => [
        { part, name: entry.name },
        { part, name: entry.afterwardsName },
      ]);
    });
    const typed = fc.oneof(
      fc.string(),
      fc.double({ noNaN: true }).map(String),
      fc.constantFrom('fail', 'pass', 'yes', '0', '1', '99'),
    );
    fc.assert(
      fc.property(fc.constantFrom(...entries), typed, ({ part, name }, text) => {
        const edited = edit(NEWEST.parameters, part, [[name, text]]);
        if (!edited.ok) {
          expect(edited.issues.length).toBeGreaterThan(0);
          return;
        }
        const kept = JSON.parse(JSON.stringify(edited.parameters));
        expect(safeReadStoredParameters(kept)).toMatchObject({ ok: true });
      }),
    );
  });
});
