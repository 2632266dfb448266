import type { RunFacts } from './facts';
import type { ProtocolParameters } from './parameters';
import type { Rule, RuleWords, Verdict } from './rule';
import { join, VERDICT_SENTENCES } from './wording';

interface StateRule<State extends string> extends RuleWords {
  state(facts: RunFacts): State;
  verdicts(parameters: ProtocolParameters): Readonly<Record<State, Verdict>>;
  /** A short name for the protocol page and a whole sentence for the finding. */
  words: Readonly<Record<State, { label: string; sentence: string }>>;
  advice: string;
}

/** A rule about something that a tester chose from a list: each state has its outcome in the version's data. */
export function stateRule<State extends string>(spec: StateRule<State>): Rule {
  const { id, group, title, why, appliesTo, guidance } = spec;
  return {
    id,
    group,
    title,
    why,
    appliesTo,
    guidance,
    limits(parameters) {
      const verdicts = spec.verdicts(parameters);
      return (Object.keys(spec.words) as State[])
        .map((state) => `${spec.words[state].label}: ${verdicts[state]}`)
        .join('; ');
    },
    evaluate(facts, parameters) {
      const state = spec.state(facts);
      const outcome = spec.verdicts(parameters)[state];
      return {
        outcome,
        numbers: [],
        sentence: join(
          spec.words[state].sentence,
          VERDICT_SENTENCES[outcome],
          outcome === 'pass' ? '' : spec.advice,
        ),
      };
    },
  };
}
