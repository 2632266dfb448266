import { asJudged, type Said, said } from '@/lib/units/said';
import type { UnitCode } from '@/lib/units/unit';
import type { RunFacts } from './facts';
import { type Band, gradeAtLeast, gradeAtMost, gradeWithin, type RangeBand } from './grading';
import { absenceWords, type MissingItem } from './missing';
import type { Evaluation, FindingNumber, LimitsOf, LimitsSchema, Rule, RuleWords } from './rule';
import { limitNumber, numberBeside, type Scale, scaleOf, spoken, writeLimit } from './wording';

interface MeasuredRule<Schema extends LimitsSchema> extends RuleWords {
  schema: Schema;
  /** Names the number: 'Mean wind'. */
  quantity: string;
  /** The number in the protocol page's words, where they depend on the version; default: the quantity. */
  described?: (limits: LimitsOf<Schema>) => string;
  /** Start of the sentence, up to the number; default: the quantity and 'was'. */
  opening?: (facts: RunFacts, limits: LimitsOf<Schema>) => string | Said;
  unit: UnitCode | '';
  /** Where the number is not written with the unit's symbol. */
  scale?: Scale;
  decimals: number;
  /** The number in canonical units, or the finding of a run that cannot be judged. */
  value(facts: RunFacts, limits: LimitsOf<Schema>): number | Evaluation;
  /** Said after a caution or a fail. */
  advice: string;
  /** What the rule asks for, so that the protocol page says what its absence counts as. */
  asks?: MissingItem;
}

interface OneSidedRule<Schema extends LimitsSchema> extends MeasuredRule<Schema> {
  direction: 'atMost' | 'atLeast';
  band(limits: LimitsOf<Schema>): Band;
}

interface RangeRule<Schema extends LimitsSchema> extends MeasuredRule<Schema> {
  band(limits: LimitsOf<Schema>): RangeBand;
}

/** A rule that asks a number to stay on one side of a limit, with a second limit up to which it is a caution. */
export function oneSidedRule<Schema extends LimitsSchema>(spec: OneSidedRule<Schema>): Rule<Schema> {
  const scale = spec.scale ?? scaleOf(spec.unit);
  const isUpper = spec.direction === 'atMost';
  const reach = (canonical: number): Said => {
    const limit = limitNumber(canonical, scale);
    return isUpper ? said`up to ${limit}` : said`${limit} or more`;
  };
  return {
    ...wordsOf(spec),
    schema: spec.schema,
    absence: 'notJudged',
    limits(limits) {
      const { pass, caution } = spec.band(limits);
      const sign = isUpper ? '≤' : '≥';
      const passText = `${sign} ${writeLimit(pass, scale)} pass`;
      const cautionText = pass === caution ? '' : `, ${sign} ${writeLimit(caution, scale)} caution`;
      return `${describedBy(spec, limits)} ${passText}${cautionText}${absenceText(spec, limits)}`;
    },
    evaluate(facts, limits) {
      const value = spec.value(facts, limits);
      if (typeof value !== 'number') return value;
      const band = spec.band(limits);
      const outcome = isUpper ? gradeAtMost(value, band) : gradeAtLeast(value, band);
      const shown = numberBeside(value, [band.pass, band.caution], scale, spec.decimals);
      const within = said`${reach(band.pass)} is within the protocol`;
      const accepted =
        outcome === 'pass' || band.pass === band.caution
          ? ''
          : said` and ${reach(band.caution)} is accepted with a caution`;
      return {
        outcome,
        numbers: [numberOf(spec, scale, value, band.pass)],
        ...spoken(
          said`${openingOf(spec, facts, limits)} ${shown}; ${within}${accepted}.`,
          outcome === 'pass' ? '' : spec.advice,
        ),
      };
    },
  };
}

/** A rule that asks a number to stay within a range, inside a wider one where it is a caution. */
export function rangeRule<Schema extends LimitsSchema>(spec: RangeRule<Schema>): Rule<Schema> {
  const scale = spec.scale ?? scaleOf(spec.unit);
  const range = (from: number, to: number): Said =>
    said`${limitNumber(from, scale)} to ${limitNumber(to, scale)}`;
  return {
    ...wordsOf(spec),
    schema: spec.schema,
    absence: 'notJudged',
    limits(limits) {
      const band = spec.band(limits);
      const pass = `${asJudged(range(band.passFrom, band.passTo))} pass`;
      const caution = `${asJudged(range(band.cautionFrom, band.cautionTo))} caution`;
      return `${describedBy(spec, limits)} ${pass}, ${caution}${absenceText(spec, limits)}`;
    },
    evaluate(facts, limits) {
      const value = spec.value(facts, limits);
      if (typeof value !== 'number') return value;
      const band = spec.band(limits);
      const outcome = gradeWithin(value, band);
      const nearest =
        Math.abs(value - band.passFrom) < Math.abs(value - band.passTo) ? band.passFrom : band.passTo;
      const shown = numberBeside(value, Object.values(band), scale, spec.decimals);
      const within = said`${range(band.passFrom, band.passTo)} is within the protocol`;
      const accepted =
        outcome === 'pass'
          ? ''
          : said` and ${range(band.cautionFrom, band.cautionTo)} is accepted with a caution`;
      return {
        outcome,
        numbers: [numberOf(spec, scale, value, nearest)],
        ...spoken(
          said`${openingOf(spec, facts, limits)} ${shown}; ${within}${accepted}.`,
          outcome === 'pass' ? '' : spec.advice,
        ),
      };
    },
  };
}

export function wordsOf({ id, group, title, why, appliesTo, guidance, field }: RuleWords): RuleWords {
  return { id, group, title, why, appliesTo, guidance, ...(field === undefined ? {} : { field }) };
}

function describedBy<Schema extends LimitsSchema>(
  spec: MeasuredRule<Schema>,
  limits: LimitsOf<Schema>,
): string {
  return spec.described?.(limits) ?? spec.quantity;
}

function openingOf<Schema extends LimitsSchema>(
  spec: MeasuredRule<Schema>,
  facts: RunFacts,
  limits: LimitsOf<Schema>,
): string | Said {
  return spec.opening?.(facts, limits) ?? `${spec.quantity} was`;
}

function absenceText<Schema extends LimitsSchema>(
  spec: MeasuredRule<Schema>,
  limits: LimitsOf<Schema>,
): string {
  return spec.asks === undefined ? '' : `; ${absenceWords(limits, spec.asks)}`;
}

function numberOf(
  spec: Pick<MeasuredRule<LimitsSchema>, 'quantity' | 'unit'>,
  scale: Scale,
  value: number,
  limit: number,
): FindingNumber {
  return {
    name: spec.quantity,
    value: scale.toShown(value),
    unit: spec.unit,
    limit: scale.toShown(limit),
  };
}
