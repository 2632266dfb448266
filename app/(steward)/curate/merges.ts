import { mergeCars, previewCarMerge } from '@/lib/registry/cars/mergeCars';
import { mergeLoops, previewLoopMerge } from '@/lib/registry/loops/mergeLoops';
import { mergeLevels, previewLevelMerge } from '@/lib/registry/models/mergeLevels';
import { mergeModels, previewModelMerge } from '@/lib/registry/models/mergeModels';

/** What can be merged, and by which use cases. */
export const MERGES = {
  loop: { preview: previewLoopMerge, merge: mergeLoops },
  model: { preview: previewModelMerge, merge: mergeModels },
  level: { preview: previewLevelMerge, merge: mergeLevels },
  car: { preview: previewCarMerge, merge: mergeCars },
} as const;

export type MergedKind = keyof typeof MERGES;

export function mergedKind(text: string): MergedKind | undefined {
  return text === 'loop' || text === 'model' || text === 'level' || text === 'car' ? text : undefined;
}
