import { describe, expect, it } from 'vitest';
import { differencesBetween } from '@/lib/protocol/compareVersions';
import { PARAMETER_FIELDS, parameterAt, writeParameter } from '@/lib/protocol/parameterFields';
import { protocolParametersSchema } from '@/lib/protocol/parameters';
import { RULE_GROUPS } from '@/lib/protocol/rule';
import { describeRules } from '@/lib/protocol/ruleCatalogue';
import { RULES } from '@/lib/protocol/rules/allRules';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { changed } from './exampleFacts';

const { parameters } = PROTOCOL_V1;
const plain = (text: string) => text.replaceAll('\u202F', ' ');
const limitsOf = (id: string, under = parameters) =>
  plain(
    describeRules(under)
      .flatMap((group) => group.rules)
      .find((rule) => rule.id === id)?.limits ?? '',
  );

describe('version 1.0', () => {
  it('is a valid set of parameters, also after storage as JSON', () => {
    expect(protocolParametersSchema.parse(JSON.parse(JSON.stringify(parameters)))).toEqual(parameters);
  });

  /** The limits as method A5 states them, in its units. */
  it.each([
    ['wind.passUpToMps', '5 m/s'],
    ['wind.cautionUpToMps', '8 m/s'],
    ['airTemperature.passFromC', '5 °C'],
    ['airTemperature.passToC', '35 °C'],
    ['airTemperature.cautionFromC', '−20 °C'],
    ['airTemperature.cautionToC', '45 °C'],
    ['adjustment.passUpToShare', '15 %'],
    ['adjustment.cautionUpToShare', '30 %'],
    ['energyResolution.passUpToShare', '1 %'],
    ['loopClosure.distancePassUpToM', '200 m'],
    ['loopClosure.heightPassUpToM', '5 m'],
    ['sharedRoute.passFromShare', '95 %'],
    ['cruiseSpeed.passUpToMps', '1.5 km/h'],
    ['speedBand.halfWidthMps', '3 km/h'],
    ['speedBand.passFromShare', '90 %'],
    ['offCruise.passUpToShare', '8 %'],
    ['tyrePressure.passUpToShare', '5 %'],
    ['warmUp.passFromM', '10 km'],
    ['startCharge.passUpToShare', '2 %'],
    ['endCharge.passFromShare', '10 %'],
    ['scale.passFrom', '0.75'],
    ['scale.passTo', '1.35'],
    ['scale.cautionFrom', '0.5'],
    ['scale.cautionTo', '2'],
    ['energyAgreement.cautionBelowPValue', '0.01'],
    ['ranking.sessions', '2'],
    ['ranking.carsAcrossModels', '3'],
  ])('has %s at %s', (path, written) => {
    const field = PARAMETER_FIELDS.find((each) => each.path === path);
    if (field === undefined) throw new RangeError(`no parameter ${path}`);
    expect(plain(writeParameter(parameterAt(parameters, field), field))).toBe(written);
  });
});

describe('the schema of parameters', () => {
  const issuesOf = (value: unknown) =>
    protocolParametersSchema.safeParse(value).error?.issues.map((issue) => issue.path.join('.')) ?? [];

  it('refuses a caution band inside the pass band', () => {
    expect(issuesOf(changed('wind', { passUpToMps: 9 }))).toEqual(['wind.cautionUpToMps']);
    expect(issuesOf(changed('endCharge', { cautionFromShare: 0.2 }))).toEqual(['endCharge.passFromShare']);
    expect(issuesOf(changed('airTemperature', { passFromC: 40 }))).toEqual(['airTemperature.passToC']);
    expect(issuesOf(changed('wind', { passUpToMps: 8 }))).toEqual([]);
  });

  it('refuses what is missing, unknown or no number', () => {
    const { wind, ...rest } = parameters;
    expect(issuesOf(rest)).toEqual(['wind']);
    expect(issuesOf({ ...parameters, rain: {} })).toHaveLength(1);
    expect(issuesOf({ ...parameters, wind: { ...wind, passUpToMps: Number.NaN } })).toContain(
      'wind.passUpToMps',
    );
    expect(issuesOf({ ...parameters, offCruise: { passUpToShare: 0.1, cautionUpToShare: 1.1 } })).toEqual([
      'offCruise.cautionUpToShare',
    ]);
  });

  it('lets no version keep silent about what a run recorded afterwards lacks', () => {
    const silent = { ...parameters, retrospective: { outcome: 'caution', whenMissing: 'notChecked' } };
    expect(issuesOf(silent)).toEqual(['retrospective.whenMissing']);
  });

  it('labels every parameter once', () => {
    const labels = PARAMETER_FIELDS.map((field) => field.label);
    expect(new Set(labels).size).toBe(labels.length);
  });

  it('names the canonical unit last, of the dimension that is shown', () => {
    const suffixes: Readonly<Record<string, RegExp>> = {
      m: /M$/,
      km: /M$/,
      'km/h': /Mps$/,
      'm/s': /Mps$/,
      '%': /Share$/,
      degC: /C$/,
      min: /S$/,
    };
    for (const { key, unit } of PARAMETER_FIELDS) {
      if (unit !== '') expect(key).toMatch(suffixes[unit] ?? /^$/);
    }
  });
});

describe('differencesBetween', () => {
  it('finds none between a version and itself', () => {
    expect(differencesBetween(PROTOCOL_V1, PROTOCOL_V1)).toEqual([]);
  });

  it('words each change with its unit and direction', () => {
    const next = {
      label: '1.1',
      parameters: {
        ...parameters,
        wind: { ...parameters.wind, passUpToMps: 6 },
        cruiseSpeed: { ...parameters.cruiseSpeed, passUpToMps: 1 / 3.6 },
        road: { ...parameters.road, damp: 'fail' as const },
        screening: { ...parameters.screening, secondApprovalOnNewLead: false },
      },
    };
    expect(differencesBetween(PROTOCOL_V1, next).map((change) => plain(change.sentence))).toEqual([
      'Cruise speed off its class, pass up to: lowered from 1.5 km/h in 1.0 to 1 km/h in 1.1.',
      'Mean wind, pass up to: raised from 5 m/s in 1.0 to 6 m/s in 1.1.',
      'Road damp: changed from caution in 1.0 to fail in 1.1.',
      'A run that changes a lead asks for a second approval: changed from yes in 1.0 to no in 1.1.',
    ]);
    const back = differencesBetween(next, PROTOCOL_V1);
    expect(back.map((change) => [change.path, change.before, change.after])).toEqual(
      differencesBetween(PROTOCOL_V1, next).map((change) => [change.path, change.after, change.before]),
    );
  });
});

describe('writeParameter', () => {
  const fieldAt = (path: string) => {
    const field = PARAMETER_FIELDS.find((each) => each.path === path);
    if (field === undefined) throw new RangeError(`no parameter ${path}`);
    return field;
  };

  it('writes a limit with all of its digits and no binary dust', () => {
    const wind = fieldAt('wind.passUpToMps');
    const cruise = fieldAt('cruiseSpeed.passUpToMps');
    const band = fieldAt('offCruise.passUpToShare');
    expect(plain(writeParameter(0.1 + 0.2, wind))).toBe('0.3 m/s');
    expect(plain(writeParameter(1.7 / 3.6, cruise))).toBe('1.7 km/h');
    // 0.07 × 100 is 7.000000000000001 in binary
    expect(plain(writeParameter(0.07, band))).toBe('7 %');
    expect(plain(writeParameter(0.0725, band))).toBe('7.25 %');
    expect(writeParameter(0.00001, fieldAt('energyAgreement.failBelowPValue'))).toBe('0.00001');
  });
});

describe('describeRules', () => {
  it('lists every rule once, by group', () => {
    const groups = describeRules(parameters);
    expect(groups.map((group) => group.group)).toEqual([...RULE_GROUPS]);
    expect(groups.flatMap((group) => group.rules.map((rule) => rule.id))).toEqual(
      RULES.map((rule) => rule.id),
    );
  });

  it('renders the limits of the version', () => {
    expect(limitsOf('wind')).toBe('Mean wind ≤ 5 m/s pass, ≤ 8 m/s caution; fail if missing');
    expect(limitsOf('wind', changed('wind', { passUpToMps: 4.5 }))).toContain('≤ 4.5 m/s pass');
    expect(limitsOf('end-charge')).toBe('Charge at finish ≥ 10 % pass, ≥ 5 % caution; caution if missing');
    expect(limitsOf('air-temperature')).toContain('5 °C to 35 °C pass, −20 °C to 45 °C caution');
    expect(limitsOf('start-charge')).toContain('≤ 2 points pass');
    expect(limitsOf('wind', changed('wind', { passUpToMps: 8 }))).toBe(
      'Mean wind ≤ 8 m/s pass; fail if missing',
    );
  });
});
