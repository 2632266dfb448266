import type { z } from 'zod';
import type { RunFieldName } from '@/lib/run/fields/table';
import type { Said } from '@/lib/units/said';
import type { UnitCode } from '@/lib/units/unit';
import type { RunFacts } from './facts';

export const OUTCOMES = ['pass', 'caution', 'fail', 'notChecked'] as const;
export type Outcome = (typeof OUTCOMES)[number];
/** How a rule ends that was able to judge. */
export type Verdict = Exclude<Outcome, 'notChecked'>;

/** A number that decided a finding, in the unit named beside it, so that a stored finding reads on its own. */
export interface FindingNumber {
  name: string;
  value: number;
  unit: UnitCode | '';
  /** The limit up to (or from) which the rule passes, in the same unit. */
  limit?: number;
}

export interface Evaluation {
  outcome: Outcome;
  numbers: FindingNumber[];
  /** Plain words that a tester can act on, in the units in which it was judged. */
  sentence: string;
  /** The same with its numbers as data, for readers with units of their own; left out where it has no number. */
  said?: Said;
}

/** The order in which the protocol page and a review list the rules. */
export const RULE_GROUPS = [
  'Loop',
  'Speed',
  'Car',
  'Energy',
  'Readings',
  'Conditions',
  'Record',
  'Result',
] as const;
export type RuleGroup = (typeof RULE_GROUPS)[number];

export interface RuleWords {
  /** Kebab case; stored with findings and reasons, so it never changes. */
  id: string;
  group: RuleGroup;
  title: string;
  /** Why the protocol asks for this. */
  why: string;
  /** Which runs it can judge. */
  appliesTo: string;
  /** What a tester can do to meet it. */
  guidance: string;
  /**
   * The field of the run form that its subject is entered in; none for a rule about the run as a whole.
   * Where the field stands in a form is the field table's affair.
   */
  field?: RunFieldName;
}

/** A limit, an outcome or a choice: one leaf of a version. */
export type ParameterValue = number | string | boolean;

/** The schema of a rule's limits: by section of the version, the keys that the rule reads there. */
export type LimitsSchema = Readonly<Record<string, z.ZodObject>>;

export type LimitsOf<Schema extends LimitsSchema> = {
  [Section in keyof Schema]: z.infer<Schema[Section]>;
};

export interface Rule<Schema extends LimitsSchema = LimitsSchema> extends RuleWords {
  schema: Schema;
  /**
   * What it means that a version does not state these limits, as a version that is older than the rule cannot:
   * either it does not judge by the rule and there is no finding, or the rule holds all the same, by these limits.
   */
  absence: 'notJudged' | { heldBy: LimitsOf<Schema> };
  /** The limits in words, for the protocol page. */
  limits(limits: LimitsOf<Schema>): string;
  evaluate(facts: RunFacts, limits: LimitsOf<Schema>): Evaluation;
}

/** A rule written out, typed by its own schema. */
export function defineRule<const Schema extends LimitsSchema>(rule: Rule<Schema>): Rule<Schema> {
  return rule;
}
