import type { DryRunSums, TurnedCounts } from '@/lib/registry/protocol/drafts/dryRunOutcome';

const runs = (count: number) => `${count} ${count === 1 ? 'run' : 'runs'}`;

/** "Of 411 approved runs, 14 would turn into cautions, 3 would fail and 2 would pass that were cautions." */
export function sumText({ runs: all, turned, passWereCautions, notJudged }: DryRunSums): string {
  const others = turned.pass - passWereCautions;
  const parts = [
    turned.caution === 0
      ? ''
      : `${turned.caution} would turn into ${turned.caution === 1 ? 'a caution' : 'cautions'}`,
    turned.fail === 0 ? '' : `${turned.fail} would fail`,
    passWereCautions === 0
      ? ''
      : `${passWereCautions} would pass that ${passWereCautions === 1 ? 'was a caution' : 'were cautions'}`,
    others === 0 ? '' : `${others} would pass that ${others === 1 ? 'fails' : 'fail'} today`,
  ].filter((part) => part !== '');
  const said = parts.length === 0 ? 'none would turn' : listed(parts);
  const left = notJudged === 0 ? '' : ` ${runs(notJudged)} could not be judged anew.`;
  return `Of ${all} approved ${all === 1 ? 'run' : 'runs'}, ${said}.${left}`;
}

function listed(parts: readonly string[]): string {
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
}

/** In the order in which a steward minds them. */
export const TURNED_COLUMNS: readonly { key: keyof TurnedCounts; header: string }[] = [
  { key: 'fail', header: 'Would fail' },
  { key: 'caution', header: 'Become cautions' },
  { key: 'pass', header: 'Would pass' },
];

const WORDS = { pass: 'pass', caution: 'caution', fail: 'fail', notChecked: 'not checked' } as const;

/** An outcome in a cell; null where the version does not judge by the rule. */
export function outcomeWords(outcome: keyof typeof WORDS | null): string {
  return outcome === null ? 'not judged' : WORDS[outcome];
}
