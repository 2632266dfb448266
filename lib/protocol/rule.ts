import type { UnitCode } from '@/lib/units/unit';
import type { RunFacts } from './facts';
import type { ProtocolParameters } from './parameters';

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
  /** Plain words that a tester can act on. */
  sentence: string;
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
}

export interface Rule extends RuleWords {
  /** The limits in words under the given parameters, for the protocol page. */
  limits(parameters: ProtocolParameters): string;
  evaluate(facts: RunFacts, parameters: ProtocolParameters): Evaluation;
}
