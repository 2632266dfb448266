import type { RunFacts } from './facts';
import { wordsOf } from './limitRule';
import type { LimitsOf, LimitsSchema, Rule, RuleWords, Verdict } from './rule';
import { join, VERDICT_SENTENCES } from './wording';

interface StateRule<State extends string, Schema extends LimitsSchema> extends RuleWords {
  schema: Schema;
  state(facts: RunFacts): State;
  verdicts(limits: LimitsOf<Schema>): Readonly<Record<State, Verdict>>;
  /** A short name for the protocol page and a whole sentence for the finding. */
  words: Readonly<Record<State, { label: string; sentence: string }>>;
  advice: string;
}

/** A rule about something that a tester chose from a list: each state has its outcome in the version's data. */
export function stateRule<State extends string, Schema extends LimitsSchema>(
  spec: StateRule<State, Schema>,
): Rule<Schema> {
  return {
    ...wordsOf(spec),
    schema: spec.schema,
    absence: 'notJudged',
    limits(limits) {
      const verdicts = spec.verdicts(limits);
      return (Object.keys(spec.words) as State[])
        .map((state) => `${spec.words[state].label}: ${verdicts[state]}`)
        .join('; ');
    },
    evaluate(facts, limits) {
      const state = spec.state(facts);
      const outcome = spec.verdicts(limits)[state];
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
