import type { UnitCode } from '@/lib/units/unit';
import type { RunFacts } from './facts';
import { type Band, gradeAtLeast, gradeAtMost, gradeWithin, type RangeBand } from './grading';
import { absenceLimits } from './missing';
import type { MissingItem, ProtocolParameters } from './parameters';
import type { Evaluation, FindingNumber, Rule, RuleWords } from './rule';
import { join, type Scale, scaleOf, writeBeside, writeLimit } from './wording';

interface MeasuredRule extends RuleWords {
  /** Names the number: 'Mean wind'. */
  quantity: string;
  /** The number in the protocol page's words, where they depend on the version; default: the quantity. */
  described?: (parameters: ProtocolParameters) => string;
  /** Start of the sentence, up to the number; default: the quantity and 'was'. */
  opening?: (facts: RunFacts, parameters: ProtocolParameters) => string;
  unit: UnitCode | '';
  /** Where the number is not written with the unit's symbol. */
  scale?: Scale;
  decimals: number;
  /** The number in canonical units, or the finding of a run that cannot be judged. */
  value(facts: RunFacts, parameters: ProtocolParameters): number | Evaluation;
  /** Said after a caution or a fail. */
  advice: string;
  /** What the rule asks for, so that the protocol page says what its absence counts as. */
  asks?: MissingItem;
}

interface OneSidedRule extends MeasuredRule {
  direction: 'atMost' | 'atLeast';
  band(parameters: ProtocolParameters): Band;
}

interface RangeRule extends MeasuredRule {
  band(parameters: ProtocolParameters): RangeBand;
}

/** A rule that asks a number to stay on one side of a limit, with a second limit up to which it is a caution. */
export function oneSidedRule(spec: OneSidedRule): Rule {
  const scale = spec.scale ?? scaleOf(spec.unit);
  const isUpper = spec.direction === 'atMost';
  const reach = (canonical: number): string =>
    isUpper ? `up to ${writeLimit(canonical, scale)}` : `${writeLimit(canonical, scale)} or more`;
  return {
    ...wordsOf(spec),
    limits(parameters) {
      const { pass, caution } = spec.band(parameters);
      const sign = isUpper ? '≤' : '≥';
      const passText = `${sign} ${writeLimit(pass, scale)} pass`;
      const cautionText = pass === caution ? '' : `, ${sign} ${writeLimit(caution, scale)} caution`;
      return `${describedBy(spec, parameters)} ${passText}${cautionText}${absenceText(spec, parameters)}`;
    },
    evaluate(facts, parameters) {
      const value = spec.value(facts, parameters);
      if (typeof value !== 'number') return value;
      const band = spec.band(parameters);
      const outcome = isUpper ? gradeAtMost(value, band) : gradeAtLeast(value, band);
      const shown = writeBeside(value, [band.pass, band.caution], scale, spec.decimals);
      const within = `${reach(band.pass)} is within the protocol`;
      const accepted =
        outcome === 'pass' || band.pass === band.caution
          ? ''
          : ` and ${reach(band.caution)} is accepted with a caution`;
      return {
        outcome,
        numbers: [numberOf(spec, scale, value, band.pass)],
        sentence: join(
          `${openingOf(spec, facts, parameters)} ${shown}; ${within}${accepted}.`,
          outcome === 'pass' ? '' : spec.advice,
        ),
      };
    },
  };
}

/** A rule that asks a number to stay within a range, inside a wider one where it is a caution. */
export function rangeRule(spec: RangeRule): Rule {
  const scale = spec.scale ?? scaleOf(spec.unit);
  const range = (from: number, to: number): string =>
    `${writeLimit(from, scale)} to ${writeLimit(to, scale)}`;
  return {
    ...wordsOf(spec),
    limits(parameters) {
      const band = spec.band(parameters);
      const pass = `${range(band.passFrom, band.passTo)} pass`;
      const caution = `${range(band.cautionFrom, band.cautionTo)} caution`;
      return `${describedBy(spec, parameters)} ${pass}, ${caution}${absenceText(spec, parameters)}`;
    },
    evaluate(facts, parameters) {
      const value = spec.value(facts, parameters);
      if (typeof value !== 'number') return value;
      const band = spec.band(parameters);
      const outcome = gradeWithin(value, band);
      const nearest =
        Math.abs(value - band.passFrom) < Math.abs(value - band.passTo) ? band.passFrom : band.passTo;
      const shown = writeBeside(value, Object.values(band), scale, spec.decimals);
      const within = `${range(band.passFrom, band.passTo)} is within the protocol`;
      const accepted =
        outcome === 'pass'
          ? ''
          : ` and ${range(band.cautionFrom, band.cautionTo)} is accepted with a caution`;
      return {
        outcome,
        numbers: [numberOf(spec, scale, value, nearest)],
        sentence: join(
          `${openingOf(spec, facts, parameters)} ${shown}; ${within}${accepted}.`,
          outcome === 'pass' ? '' : spec.advice,
        ),
      };
    },
  };
}

function wordsOf({ id, group, title, why, appliesTo, guidance }: RuleWords): RuleWords {
  return { id, group, title, why, appliesTo, guidance };
}

function describedBy(spec: MeasuredRule, parameters: ProtocolParameters): string {
  return spec.described?.(parameters) ?? spec.quantity;
}

function openingOf(spec: MeasuredRule, facts: RunFacts, parameters: ProtocolParameters): string {
  return spec.opening?.(facts, parameters) ?? `${spec.quantity} was`;
}

function absenceText(spec: MeasuredRule, parameters: ProtocolParameters): string {
  return spec.asks === undefined ? '' : `; ${absenceLimits(parameters, spec.asks)}`;
}

function numberOf(spec: MeasuredRule, scale: Scale, value: number, limit: number): FindingNumber {
  return {
    name: spec.quantity,
    value: scale.toShown(value),
    unit: spec.unit,
    limit: scale.toShown(limit),
  };
}
