import { limitsOfRule, type ProtocolParameters, sectionsFor } from './parameters';
import { RULE_GROUPS, type Rule, type RuleGroup, type RuleWords } from './rule';
import { RULES } from './rules/allRules';

/** A rule as the protocol page prints it. */
export interface RuleDescription extends RuleWords {
  /** “Mean wind ≤ 5 m/s pass, ≤ 8 m/s caution” */
  limits: string;
  /** Where other limits hold for runs recorded afterwards. */
  retrospectiveLimits?: string;
}

export interface RuleGroupDescription {
  group: RuleGroup;
  rules: RuleDescription[];
}

/** Every rule of the version with these parameters, by group, in the order of findings. */
export function describeRules(parameters: ProtocolParameters): RuleGroupDescription[] {
  return RULE_GROUPS.map((group) => ({
    group,
    rules: RULES.filter((rule) => rule.group === group).flatMap(
      (rule) => describeRule(rule, parameters) ?? [],
    ),
  }));
}

/** Undefined for a rule that the version does not have. */
export function describeRule(rule: Rule, parameters: ProtocolParameters): RuleDescription | undefined {
  const [limits, retrospectiveLimits] = [false, true].map((isRetrospective) => {
    const stated = limitsOfRule(rule, sectionsFor(parameters, isRetrospective));
    return stated === undefined ? undefined : rule.limits(stated);
  });
  if (limits === undefined) return undefined;
  const { id, group, title, why, appliesTo, guidance } = rule;
  return {
    id,
    group,
    title,
    why,
    appliesTo,
    guidance,
    limits,
    ...(retrospectiveLimits === undefined || retrospectiveLimits === limits ? {} : { retrospectiveLimits }),
  };
}
