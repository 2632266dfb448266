import type { Outcome as RuleOutcome } from '@/lib/protocol/rule';
import { Sign } from './Sign';

const wordOf: Record<RuleOutcome, string> = {
  pass: 'Pass',
  caution: 'Caution',
  fail: 'Fail',
  notChecked: 'Not checked',
};
const inkOf: Record<RuleOutcome, string> = {
  pass: 'text-done',
  caution: 'text-caution',
  fail: 'text-problem',
  notChecked: 'text-ink-soft',
};

/** What a rule found: a shape and a word. */
export function Outcome({ outcome, label }: { outcome: RuleOutcome; label?: string }) {
  return (
    <span
      className={`inline-flex items-center gap-1.5 whitespace-nowrap text-sm font-semibold ${inkOf[outcome]}`}
    >
      <Sign kind={outcome} className="size-4 shrink-0" />
      {label ?? wordOf[outcome]}
    </span>
  );
}
