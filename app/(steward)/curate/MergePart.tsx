import { Notice } from '@/app/ui/Notice';
import type { MergePreview } from '@/lib/registry/names/merging';
import { MergeForm } from './Forms';
import type { MergedKind } from './merges';
import { mergeSentences } from './mergeWords';

/** What would move to the other one, or why it cannot. */
export function MergePart({ kind, preview }: { kind: MergedKind; preview: MergePreview }) {
  const { from, into, refusal } = preview;
  if (refusal !== undefined)
    return (
      <Notice kind="caution" title={`${from.words} cannot be merged into ${into.words}.`}>
        {refusal}
      </Notice>
    );
  return (
    <>
      <ul className="mb-4 max-w-[46rem] list-disc space-y-1 pl-5">
        {mergeSentences(preview).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <MergeForm kind={kind} of={from.key} into={into.key} words={`Merge ${from.words} into ${into.words}`} />
    </>
  );
}
