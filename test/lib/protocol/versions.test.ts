import { describe, expect, it } from 'vitest';
import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { differencesBetween } from '@/lib/protocol/compareVersions';
import { PARAMETER_FIELDS, parameterAt, writeParameter } from '@/lib/protocol/parameterFields';
import type { CompleteParameters, ProtocolParameters } from '@/lib/protocol/parameters';
import { RULE_GROUPS } from '@/lib/protocol/rule';
import { describeRules } from '@/lib/protocol/ruleCatalogue';
import { RULES, wordsOfRule } from '@/lib/protocol/rules/allRules';
import { faultsOfNewVersion, readStoredParameters, safeReadStoredParameters } from '@/lib/protocol/stored';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { PROTOCOL_V2 } from '@/lib/protocol/versions/v2';
import { PROTOCOL_V3 } from '@/lib/protocol/versions/v3';
import { changed } from './exampleFacts';
import { NEWEST, RULES_AFTER_ONE, STORED_VERSION_ONE, VERSION_ONE } from './versionsUnderTest';

const { parameters } = NEWEST_VERSION;
const plain = (text: string) => text.replaceAll('\u202F', ' ');
const limitsOf = (id: string, under: ProtocolParameters = parameters) =>
  plain(
    describeRules(under)
      .flatMap((group) => group.rules)
      .find((rule) => rule.id === id)?.limits ?? '',
  );

describe('version 1.0', () => {
  it('is what registries of its time hold', () => {
    expect(PROTOCOL_V1.label).toBe(STORED_VERSION_ONE.label);
    expect(PROTOCOL_V1.summary).toBe(STORED_VERSION_ONE.summary);
    expect(PROTOCOL_V1.parameters).toEqual(STORED_VERSION_ONE.parameters);
  });

  it('is read as it was stored, without the rules that came after it', () => {
    expect(VERSION_ONE.parameters).toEqual(STORED_VERSION_ONE.parameters);
    const ids = describeRules(VERSION_ONE.parameters).flatMap(({ rules }) => rules.map(({ id }) => id));
    expect(ids).toEqual(RULES.map((rule) => rule.id).filter((id) => !RULES_AFTER_ONE.includes(id)));
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
    expect(plain(writeParameter(parameterAt(VERSION_ONE.parameters, field) ?? '', field))).toBe(written);
  });
});

describe('version 2.0', () => {
  it('adds one rule to version 1.0 and changes nothing else', () => {
    const { added, dropped, changes } = differencesBetween(VERSION_ONE, PROTOCOL_V2);
    expect(added.map(({ id, limits }) => [id, plain(limits)])).toEqual([
      [
        'gusts',
        'Gusts over the mean wind ≤ 5 m/s pass, otherwise caution; not checked if no gusts are stated',
      ],
    ]);
    expect({ dropped, changes }).toEqual({ dropped: [], changes: [] });
    const back = differencesBetween(PROTOCOL_V2, VERSION_ONE);
    expect([back.added, back.dropped.map(({ id }) => id), back.changes]).toEqual([[], ['gusts'], []]);
  });
});

describe('version 3.0', () => {
  it('adds three rules on photos to version 2.0 and changes nothing else', () => {
    const { added, dropped, changes } = differencesBetween(PROTOCOL_V2, PROTOCOL_V3);
    expect(added.map(({ id, limits }) => [id, plain(limits)])).toEqual([
      [
        'same-picture',
        'No photo that is on another run pass; on a run of another tester, where it was first, fail; on another run of one’s own caution',
      ],
      [
        'nearly-same-picture',
        'No photo that looks like one of another run pass; one of whose 64 bits of appearance up to 7 differ caution',
      ],
      [
        'photo-time',
        'Photos from 0.5 h before the start to 3 h after the finish pass, otherwise caution; not checked if no photo says its time',
      ],
    ]);
    expect({ dropped, changes }).toEqual({ dropped: [], changes: [] });
  });

  it('asks for no more than the search finds', () => {
    expect(PROTOCOL_V3.parameters.pictures.nearlySameUpToBits).toBe(NEARLY_SAME_BITS);
  });
});

describe('the newest version', () => {
  it('is read whole after storage as JSON, and can be put in force', () => {
    expect(NEWEST.parameters).toEqual(NEWEST_VERSION.parameters);
    expect(faultsOfNewVersion(NEWEST.parameters)).toEqual([]);
  });
});

describe('faultsOfNewVersion', () => {
  it('names the rules that are left out, and what nothing reads', () => {
    expect(faultsOfNewVersion(VERSION_ONE.parameters)).toEqual(
      RULES_AFTER_ONE.map((id) => `The limits of “${wordsOfRule(id).title}” are missing.`),
    );
    const misspelt = { ...parameters, gusts: { passUpToMps: 5, passUptoMps: 6 }, hail: { upToMm: 1 } };
    expect(faultsOfNewVersion(misspelt)).toEqual([
      'Nothing reads gusts.passUptoMps.',
      'Nothing reads hail.upToMm.',
    ]);
    const instead = { limits: { wind: { passUpToMps: 4 }, dew: { upToC: 1 } } };
    expect(faultsOfNewVersion(withRetrospective(instead))).toEqual(['Nothing reads dew.upToC.']);
  });
});

const withRetrospective = (change: object): ProtocolParameters => ({
  ...parameters,
  retrospective: { ...parameters.retrospective, ...change },
});

describe('reading a stored version', () => {
  const issuesOf = (value: unknown) => {
    const read = safeReadStoredParameters(value);
    return read.ok ? [] : read.error.issues.map((issue) => issue.path.join('.'));
  };

  it('refuses a caution band inside the pass band', () => {
    expect(issuesOf(changed('wind', { passUpToMps: 9 }))).toEqual(['wind.cautionUpToMps']);
    expect(issuesOf(changed('endCharge', { cautionFromShare: 0.2 }))).toEqual(['endCharge.passFromShare']);
    expect(issuesOf(changed('airTemperature', { passFromC: 40 }))).toEqual(['airTemperature.passToC']);
    expect(issuesOf(changed('wind', { passUpToMps: 8 }))).toEqual([]);
  });

  it('refuses what is no limit of its kind, also for runs recorded afterwards', () => {
    const { wind } = parameters;
    expect(issuesOf({ ...parameters, wind: { ...wind, passUpToMps: Number.NaN } })).toEqual([
      'wind.passUpToMps',
    ]);
    expect(issuesOf({ ...parameters, wind: { ...wind, passUpToMps: '5' } })).toEqual(['wind.passUpToMps']);
    expect(issuesOf({ ...parameters, offCruise: { passUpToShare: 0.1, cautionUpToShare: 1.1 } })).toEqual([
      'offCruise.cautionUpToShare',
    ]);
    expect(issuesOf(withRetrospective({ limits: { wind: { passUpToMps: 9 } } }))).toEqual([
      'wind.cautionUpToMps',
    ]);
    expect(issuesOf(withRetrospective({ limits: { wind: { passUpToMps: 7 } } }))).toEqual([]);
    for (const nothing of [null, 'v1', [], { wind: 5 }]) expect(issuesOf(nothing)).not.toEqual([]);
    expect(() => readStoredParameters({})).toThrow();
  });

  it('leaves a rule out whose limits are not all stated, and keeps what this release does not know', () => {
    const { wind: _wind, ...rest } = parameters;
    const stored = { ...rest, fog: { fromM: 200 } };
    const read = readStoredParameters(stored);
    expect(read).toEqual(stored);
    const ids = describeRules(read).flatMap(({ rules }) => rules.map(({ id }) => id));
    expect(ids).toEqual(RULES.map((rule) => rule.id).filter((id) => id !== 'wind'));
  });

  it('needs what a ranking and a second look ask, which every version states', () => {
    const { ranking: _ranking, ...rest } = parameters;
    expect(issuesOf(rest)).toEqual(['ranking']);
  });

  it('lets no version keep silent about what a run recorded afterwards lacks', () => {
    expect(issuesOf(withRetrospective({ whenMissing: 'notChecked' }))).toContain('retrospective.whenMissing');
  });
});

describe('the schema of limits', () => {
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
      h: /S$/,
    };
    for (const { key, unit } of PARAMETER_FIELDS) {
      if (unit !== '') expect(key).toMatch(suffixes[unit] ?? /^$/);
    }
  });
});

describe('differencesBetween', () => {
  const next: { label: string; parameters: CompleteParameters } = {
    label: '4.0',
    parameters: {
      ...parameters,
      wind: { ...parameters.wind, passUpToMps: 6 },
      cruiseSpeed: { ...parameters.cruiseSpeed, passUpToMps: 1 / 3.6 },
      road: { ...parameters.road, damp: 'fail' },
      screening: { ...parameters.screening, secondApprovalOnNewLead: false },
    },
  };

  it('finds none between a version and itself', () => {
    expect(differencesBetween(NEWEST, NEWEST)).toEqual({ added: [], dropped: [], changes: [] });
  });

  it('words each change with its unit and direction', () => {
    const { changes } = differencesBetween(NEWEST, next);
    expect(changes.map((change) => plain(change.sentence))).toEqual([
      'Cruise speed off its class, pass up to: lowered from 1.5 km/h in 3.3 to 1 km/h in 4.0.',
      'Mean wind, pass up to: raised from 5 m/s in 3.3 to 6 m/s in 4.0.',
      'Road damp: changed from caution in 3.3 to fail in 4.0.',
      'A run that changes a lead asks for a second approval: changed from yes in 3.3 to no in 4.0.',
    ]);
    const back = differencesBetween(next, NEWEST).changes;
    expect(back.map((change) => [change.path, change.before, change.after])).toEqual(
      changes.map((change) => [change.path, change.after, change.before]),
    );
  });

  it('tells the limits for runs recorded afterwards apart where they change otherwise', () => {
    const stricter = {
      label: '4.0',
      parameters: withRetrospective({
        limits: { ...NEWEST.parameters.retrospective?.limits, wind: { passUpToMps: 4 } },
      }),
    };
    expect(differencesBetween(NEWEST, stricter).changes.map(({ sentence }) => plain(sentence))).toEqual([
      'Runs recorded afterwards, mean wind, pass up to: lowered from 5 m/s in 3.3 to 4 m/s in 4.0.',
    ]);
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

  it('gives the limits for runs recorded afterwards where they are others', () => {
    const under = withRetrospective({ limits: { wind: { passUpToMps: 4 } } });
    const described = describeRules(under).flatMap((group) => group.rules);
    expect(described.filter((rule) => rule.retrospectiveLimits !== undefined)).toMatchObject([
      { id: 'wind', limits: expect.stringContaining('≤ 5') },
    ]);
    expect(plain(described.find(({ id }) => id === 'wind')?.retrospectiveLimits ?? '')).toBe(
      'Mean wind ≤ 4 m/s pass, ≤ 8 m/s caution; fail if missing',
    );
  });
});
