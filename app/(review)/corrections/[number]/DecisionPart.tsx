import { Section } from '@/app/ui/Section';
import type { CorrectionView } from '@/lib/registry/corrections/correction';
import { DecideForm } from './DecideForm';
import { WithdrawForm } from './WithdrawForm';

const WHY_NOT = {
  own: 'You proposed it, have a run in it or declared an interest in what it is about: another reviewer decides.',
  reader: 'A reviewer decides who did not propose it and has no run in it.',
  computing: 'It can be decided once what it makes of the runs is computed.',
} as const;

/** The decision for those who may make it, and for the others who does. */
export function DecisionPart({ view }: { view: CorrectionView }) {
  if (view.standing === 'decided') return null;
  const form = { correctionId: view.id, number: view.number };
  return (
    <Section id="decide" title="Decision">
      {view.standing === 'open' || view.standing === 'faulty' ? (
        <DecideForm
          {...form}
          computation={view.computation}
          runs={view.sums?.runs ?? 0}
          isApprovable={view.standing === 'open'}
        />
      ) : (
        <p className="max-w-[46rem]">{WHY_NOT[view.standing]}</p>
      )}
      {view.mayWithdraw ? <WithdrawForm {...form} /> : null}
    </Section>
  );
}
