import { countText } from '@/app/ui/countText';
import { Notice } from '@/app/ui/Notice';
import type { LoopMergePreview } from '@/lib/registry/loops/mergeLoops';
import { MergeForm } from './Forms';

/** What would move to the other loop, or why it cannot. */
export function MergeLoop({ preview }: { preview: LoopMergePreview }) {
  const { from, into, runs, counted, sessions, joined, classes, refusal } = preview;
  if (refusal !== undefined)
    return (
      <Notice kind="caution" title={`${from.name} cannot be merged into ${into.name}.`}>
        {refusal}
      </Notice>
    );
  return (
    <>
      <p className="mb-3 max-w-[46rem]">
        {countText({ runs })} on {from.name} would be runs on {into.name}, {counted} of them counting, in{' '}
        {sessions} {sessions === 1 ? 'session' : 'sessions'}
        {joined > 0 ? `, ${joined} of which would join one of the same car and day there` : ''}. The address
        of {from.name} would lead to {into.name}.{' '}
        {classes.length > 0 ? `Fitted again: ${classes.join(', ')}.` : 'No class is fitted again.'} It cannot
        be undone.
      </p>
      <MergeForm slug={from.slug} intoSlug={into.slug} words={`Merge ${from.name} into ${into.name}`} />
    </>
  );
}
