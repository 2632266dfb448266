import { Sign } from './Sign';

export type OutcomeKind = 'pass' | 'caution' | 'fail' | 'notChecked';

const wordOf: Record<OutcomeKind, string> = {
  pass: 'Pass',
  caution: 'Caution',
  fail: 'Fail',
  notChecked: 'Not checked',
};
const inkOf: Record<OutcomeKind, string> = {
  pass: 'text-done',
  caution: 'text-caution',
  fail: 'text-problem',
  notChecked: 'text-ink-soft',
};

/** What a rule found: a shape and a word. */
export function Outcome({ outcome, label }: { outcome: OutcomeKind; label?: string }) {
  return (
    <span
      className={`inline-flex items-center gap-1.5 whitespace-nowrap text-sm font-semibold ${inkOf[outcome]}`}
    >
      <Sign kind={outcome} className="size-4 shrink-0" />
      {label ?? wordOf[outcome]}
    </span>
  );
}
