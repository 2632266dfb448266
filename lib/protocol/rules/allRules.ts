import type { LimitsOf, Rule, RuleWords } from '../rule';
import { capitalise } from '../wording';
import { CAR_RULES } from './car';
import { CONDITIONS_RULES } from './conditions';
import { ENERGY_RULES } from './energy';
import { LOOP_RULES } from './loop';
import { NEIGHBOUR_RULES, SPREAD_RULES } from './neighbours';
import { PICTURE_RULES } from './pictures';
import { READING_RULES } from './readings';
import { RECORD_RULES } from './record';
import { RESULT_RULES } from './result';
import { SPEED_RULES } from './speed';

/** Each rule with the type of its own limits. */
const TYPED_RULES = [
  ...LOOP_RULES,
  ...SPEED_RULES,
  ...CAR_RULES,
  ...ENERGY_RULES,
  ...READING_RULES,
  ...CONDITIONS_RULES,
  ...RECORD_RULES,
  ...PICTURE_RULES,
  ...NEIGHBOUR_RULES,
  ...RESULT_RULES,
  ...SPREAD_RULES,
] as const satisfies readonly Rule[];

/** Every rule, in the order of the groups: the order of findings and of the protocol page. */
export const RULES: readonly Rule[] = TYPED_RULES;

export type AnyRuleLimits = LimitsOf<(typeof TYPED_RULES)[number]['schema']>;

export function ruleById(id: string): Rule | undefined {
  return RULES.find((rule) => rule.id === id);
}

/**
 * The words of a rule by the id that findings and reasons are stored with. A rule that only another version of the
 * program knows keeps its finding, under its id in plain letters.
 */
export function wordsOfRule(id: string): RuleWords {
  return (
    ruleById(id) ?? {
      id,
      group: 'Record',
      title: capitalise(id.replaceAll('-', ' ')),
      why: 'This release of the registry does not have the rule; its finding stands as it was made.',
      appliesTo: 'Runs that were judged by it.',
      guidance: '',
    }
  );
}
