import type { ProtocolParameters } from './parameters';
import { RULE_GROUPS, type RuleGroup, type RuleWords } from './rule';
import { RULES } from './rules/allRules';

/** A rule as the protocol page prints it. */
export interface RuleDescription extends RuleWords {
  /** “Mean wind ≤ 5 m/s pass, ≤ 8 m/s caution” */
  limits: string;
}

export interface RuleGroupDescription {
  group: RuleGroup;
  rules: RuleDescription[];
}

/** Every rule under the given parameters, by group, in the order of findings. */
export function describeRules(parameters: ProtocolParameters): RuleGroupDescription[] {
  return RULE_GROUPS.map((group) => ({
    group,
    rules: RULES.filter((rule) => rule.group === group).map(
      ({ id, title, why, appliesTo, guidance, limits }) => ({
        id,
        group,
        title,
        why,
        appliesTo,
        guidance,
        limits: limits(parameters),
      }),
    ),
  }));
}
