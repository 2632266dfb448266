import { describe, expect, it } from 'vitest';
import { evaluateRun } from '@/lib/protocol/evaluate';
import type { PictureNeighbour, RunFacts } from '@/lib/protocol/facts';
import {
  fieldsOfSchema,
  PARAMETER_FIELDS,
  type ParameterField,
  parameterAt,
} from '@/lib/protocol/parameterFields';
import { limitsOfRule, type ProtocolParameters, sectionsFor } from '@/lib/protocol/parameters';
import type { ParameterValue, Rule } from '@/lib/protocol/rule';
import { describeRules } from '@/lib/protocol/ruleCatalogue';
import { RULES } from '@/lib/protocol/rules/allRules';
import { NEWEST_VERSION } from '@/lib/protocol/versions/newestVersion';
import type { RunRecord } from '@/lib/run/runRecord';
import {
  ALL_CHECK_IDS,
  check,
  exactReading,
  GOOD_RUN,
  photoAt,
  withReading,
  withRecord,
} from './exampleFacts';
import { MEASURED_CASES } from './measuredRules';
import { NEIGHBOURHOODS } from './neighbourhoods';

/** Used by the rankings and by the review, not by a rule. */
const USED_ELSEWHERE = ['ranking', 'screening'];

const STATES: readonly Partial<RunRecord>[] = [
  ...(['damp', 'wet', 'snow'] as const).map((road) => ({ road })),
  ...(['rain', 'snow'] as const).map((precipitation) => ({ precipitation })),
  ...(['moderate', 'dense'] as const).map((traffic) => ({ traffic })),
  ...(['mild', 'cooling', 'heating'] as const).map((climate) => ({ climate })),
  ...(['ownInstrument', 'carDisplay', 'forecast'] as const).map((conditionsSource) => ({ conditionsSource })),
  ...(['calibratedSpeedometer', 'notVerified'] as const).map((trueSpeedMethod) => ({ trueSpeedMethod })),
  { closeFollowing: 'some' },
];

const bare: RunFacts = { ...withRecord({ readings: {} }), evidenceKinds: [] };
const disagreement = (pValue: number): RunFacts => ({
  ...GOOD_RUN,
  energy: {
    relativeResolutionUncertainty: 0.001,
    disagreeing: { label: 'charger', standardisedResidual: 3, chiSquare: 9, pValue },
  },
});

const PICTURES: readonly (readonly PictureNeighbour[])[] = [
  { isSame: true, isOwn: false, differingBits: 0 },
  { isSame: true, isOwn: true, differingBits: 0 },
  { isSame: false, isOwn: false, differingBits: 7 },
].map((each) => [{ runNumber: 12, ...each }]);

/** Runs that between them reach every side of every limit. */
const RUNS: readonly RunFacts[] = [
  GOOD_RUN,
  ...MEASURED_CASES.flatMap(({ run, examples }) => examples.map(([value]) => run(value))),
  ...STATES.map((state) => withRecord(state)),
  { ...withRecord({ trueSpeedMethod: 'calibratedSpeedometer' }), car: { hasSpeedometerCalibration: true } },
  ...ALL_CHECK_IDS.map((id) => ({ ...GOOD_RUN, checks: [check(id, 'inconsistent')] })),
  ...[80, 110, 113, 121, 130].map((speedKmh) =>
    withReading('indicatedSpeed', exactReading('indicatedSpeed', speedKmh / 3.6, 'km/h')),
  ),
  ...[0.005, 0.00005, 0.4].map(disagreement),
  { ...GOOD_RUN, energy: { relativeResolutionUncertainty: 0.001, birgeRatio: 3 } },
  { ...GOOD_RUN, normalisation: { ok: false, reasons: [] } },
  bare,
  ...PICTURES.map((pictures) => ({ ...GOOD_RUN, pictures })),
  ...['05:00', '14:00'].map((utc) => photoAt(`2031-05-04T${utc}:00Z`, 120)),
  ...NEIGHBOURHOODS,
  withReading('stationDistance', undefined),
  withRecord({ isRetrospective: true }, bare),
];

function candidatesFor(field: ParameterField, value: ParameterValue): ParameterValue[] {
  if (field.kind === 'choice') return field.options.filter((option) => option !== value);
  if (typeof value === 'number') return [value * 3 + 1, value / 3, -100];
  return [!value];
}

function mutated(field: ParameterField, value: ParameterValue): ProtocolParameters {
  const sections = sectionsFor(NEWEST_VERSION.parameters, false);
  // Also what no schema would take: the rules are to be seen reading it.
  return { ...sections, [field.section]: { ...sections[field.section], [field.key]: value } } as never;
}

function stated(field: ParameterField): ParameterValue {
  const value = parameterAt(NEWEST_VERSION.parameters, field);
  if (value === undefined) throw new RangeError(`the newest version does not state ${field.path}`);
  return value;
}

const judge = (facts: RunFacts, parameters: ProtocolParameters) =>
  evaluateRun(facts, { label: 'mutated', parameters });

/** What the rules that state the limit say of a run, one after the other; the others never see it. */
function outcomesBy(limit: ParameterField, parameters: ProtocolParameters): (facts: RunFacts) => string {
  const reading = ALL_RULES.filter((rule) =>
    fieldsOfSchema(rule.schema).some((field) => field.path === limit.path),
  );
  const [plain = {}, afterwards = {}] = [false, true].map((isRetrospective) =>
    sectionsFor(parameters, isRetrospective),
  );
  return (facts) =>
    reading
      .map((rule) => {
        const limits = limitsOfRule(rule, facts.record.isRetrospective ? afterwards : plain);
        return limits && rule.evaluate(facts, limits).outcome;
      })
      .join();
}

const ALL_RULES: readonly Rule[] = RULES;
const ORIGINAL = RUNS.map((facts) => judge(facts, NEWEST_VERSION.parameters));
const fields = PARAMETER_FIELDS.filter((field) => !USED_ELSEWHERE.includes(field.section));

describe('every parameter of a version', () => {
  // The band's width is what the share was measured with: it is stated in the sentence, it decides nothing itself.
  const deciding = fields.filter((field) => field.path !== 'speedBand.halfWidthMps');

  it.each(deciding.map((field) => [field.path, field] as const))('%s decides a finding', (_path, field) => {
    const value = stated(field);
    const original = outcomesBy(field, NEWEST_VERSION.parameters);
    const others = candidatesFor(field, value).map((candidate) =>
      outcomesBy(field, mutated(field, candidate)),
    );
    const isDecided = RUNS.some((facts) => {
      const before = original(facts);
      return others.some((outcomes) => outcomes(facts) !== before);
    });
    expect(isDecided).toBe(true);
  });

  it('states the width of the speed band', () => {
    const field = fields.find((each) => each.path === 'speedBand.halfWidthMps');
    if (field === undefined) throw new RangeError('no speed band');
    const [before, after] = [NEWEST_VERSION.parameters, mutated(field, 2 / 3.6)].map(
      (parameters) =>
        judge(GOOD_RUN, parameters).find((each) => each.ruleId === 'cruise-speed-band')?.sentence,
    );
    expect(before).toMatch(/within ±3.km/);
    expect(after).toMatch(/within ±2.km/);
  });

  it('is printed on the protocol page', () => {
    const page = (parameters: ProtocolParameters) => JSON.stringify(describeRules(parameters));
    const unprinted = fields
      .filter((field) => {
        const value = stated(field);
        return candidatesFor(field, value).every(
          (candidate) => page(mutated(field, candidate)) === page(NEWEST_VERSION.parameters),
        );
      })
      .map((field) => field.path);
    expect(unprinted).toEqual([]);
  });

  it('between these runs, every rule passes, and is otherwise at least once', () => {
    const ids = ORIGINAL[0]?.map((finding) => finding.ruleId) ?? [];
    for (const id of ids) {
      const outcomes = new Set(
        ORIGINAL.flatMap((run) => run.filter((each) => each.ruleId === id)).map((each) => each.outcome),
      );
      expect(outcomes.has('pass'), id).toBe(true);
      // One marks and does not judge.
      const isOther = outcomes.has('caution') || outcomes.has('fail') || id === 'independent-trace';
      if (id !== 'not-duplicate') expect(isOther, id).toBe(true);
    }
  });
});
