import { Notice } from '@/app/ui/Notice';
import { Minute } from '@/app/ui/When';
import type { CorrectionView } from '@/lib/registry/corrections/correction';

const TITLES = {
  approved: 'Approved: the value is corrected, and so is every run of it.',
  rejected: 'Rejected: nothing has changed.',
  withdrawn: 'Taken back: nothing has changed.',
} as const;

/** What became of it, by whom and why. */
export function Outcome({ view: { state, decided } }: { view: CorrectionView }) {
  if (decided === null || state === 'computing' || state === 'waiting') return null;
  return (
    <Notice kind={state === 'approved' ? 'done' : 'info'} title={TITLES[state]}>
      {decided.reason ? <p className="whitespace-pre-line">{decided.reason}</p> : null}
      <p className="text-sm">
        {decided.by?.displayName ?? 'The registry'}, <Minute at={decided.at} />
      </p>
    </Notice>
  );
}
