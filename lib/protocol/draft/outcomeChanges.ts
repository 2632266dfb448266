import { countOutcomes, type FindingResult } from '../evaluate';
import type { Evaluation, Outcome, Verdict } from '../rule';

/** What one rule says of a run by one version and by another; null where a version does not judge by it. */
export interface OutcomeChange extends Pick<Evaluation, 'sentence' | 'said'> {
  ruleId: string;
  before: Outcome | null;
  after: Outcome | null;
}

/** The worst that the rules say of a run: what decides whether it can be approved, and with what. */
export function worstOutcome(findings: readonly { outcome: Outcome }[]): Verdict {
  const { fail, caution } = countOutcomes(findings);
  return fail > 0 ? 'fail' : caution > 0 ? 'caution' : 'pass';
}

const isSilent = (outcome: Outcome | undefined) => outcome === 'pass' || outcome === 'notChecked';

/**
 * The rules that say something else, in the order of the findings. A rule that only one of the versions has counts where
 * it does more than pass: otherwise each run would have a change for each new rule.
 */
export function outcomeChanges(
  before: readonly FindingResult[],
  after: readonly FindingResult[],
): OutcomeChange[] {
  const [old, next] = [before, after].map(
    (findings) => new Map(findings.map((finding) => [finding.ruleId, finding])),
  ) as [Map<string, FindingResult>, Map<string, FindingResult>];
  return [...new Set([...after, ...before].map(({ ruleId }) => ruleId))].flatMap((ruleId) => {
    const [was, is] = [old.get(ruleId), next.get(ruleId)];
    const said = is ?? was;
    if (said === undefined || was?.outcome === is?.outcome) return [];
    if ((was === undefined || is === undefined) && isSilent(said.outcome)) return [];
    return {
      ruleId,
      before: was?.outcome ?? null,
      after: is?.outcome ?? null,
      sentence: said.sentence,
      ...(said.said === undefined ? {} : { said: said.said }),
    };
  });
}
