import type { RunFacts } from './facts';
import { limitsOfRule, type ProtocolVersion, sectionsFor } from './parameters';
import type { Evaluation, Outcome } from './rule';
import { RULES } from './rules/allRules';

/** What one rule said of one run: a row of the record. */
export interface FindingResult extends Evaluation {
  ruleId: string;
}

/**
 * All rules of the version, always, in their fixed order: a finding that is missing cannot be taken for a pass. A rule
 * that the version does not have gives none, unless the rule says that it holds all the same.
 */
export function evaluateRun(facts: RunFacts, version: ProtocolVersion): FindingResult[] {
  const stated = sectionsFor(version.parameters, facts.record.isRetrospective);
  return RULES.flatMap((rule) => {
    const limits = limitsOfRule(rule, stated);
    return limits === undefined ? [] : [{ ruleId: rule.id, ...rule.evaluate(facts, limits) }];
  });
}

export type OutcomeCounts = Record<Outcome, number>;

export function countOutcomes(findings: readonly { outcome: Outcome }[]): OutcomeCounts {
  const counts: OutcomeCounts = { pass: 0, caution: 0, fail: 0, notChecked: 0 };
  for (const { outcome } of findings) counts[outcome] += 1;
  return counts;
}

/**
 * Whether a reviewer may approve: the run was judged and no rule failed. There are no exceptions; a limit that
 * is wrong is changed in a new protocol version.
 */
export function isApprovable(findings: readonly { outcome: Outcome }[]): boolean {
  return findings.length > 0 && findings.every(({ outcome }) => outcome !== 'fail');
}
