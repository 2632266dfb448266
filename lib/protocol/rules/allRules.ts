import type { Rule } from '../rule';
import { CAR_RULES } from './car';
import { CONDITIONS_RULES } from './conditions';
import { ENERGY_RULES } from './energy';
import { LOOP_RULES } from './loop';
import { READING_RULES } from './readings';
import { RECORD_RULES } from './record';
import { RESULT_RULES } from './result';
import { SPEED_RULES } from './speed';

/** Every rule, in the order of the groups: the order of findings and of the protocol page. */
export const RULES: readonly Rule[] = [
  ...LOOP_RULES,
  ...SPEED_RULES,
  ...CAR_RULES,
  ...ENERGY_RULES,
  ...READING_RULES,
  ...CONDITIONS_RULES,
  ...RECORD_RULES,
  ...RESULT_RULES,
];

export function ruleById(id: string): Rule | undefined {
  return RULES.find((rule) => rule.id === id);
}
