import { isVouchedFor } from '@/lib/access/vouched';
import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { pictureTies } from '@/lib/stats/pictureTies';
import { reviewerTies, type Tie } from '@/lib/stats/testerClusters';
import type { ShownLabel } from '@/lib/store/countedRuns';
import {
  countedApprovals,
  countedPictures,
  countedTesters,
  type PictureRow,
  testersOfOneRecording,
} from '@/lib/store/testerTies';
import type { Registry } from '../registry';

/** What a fit has to know of those who drove. */
export interface KnownTesters {
  ties: Tie[];
  isVouched: (tester: string) => boolean;
}

/**
 * Which testers of a world count as one: by photos, recordings and reviewers, over all of its classes; cars are the
 * fit's own to see. Those whom nobody vouches for count as one together, since anybody may open as many accounts.
 */
export async function knownTesters(registry: Registry, shown: ShownLabel): Promise<KnownTesters> {
  const pictures: PictureRow[] = [];
  for await (const picture of countedPictures(registry.db, shown)) pictures.push(picture);
  const [recordings, approvals, testers] = await Promise.all([
    testersOfOneRecording(registry.db, shown),
    countedApprovals(registry.db, shown),
    countedTesters(registry.db, shown),
  ]);
  const unvouched = testers.filter((tester) => !isVouchedFor(tester)).map(({ id }) => id);
  const [first, ...others] = unvouched;
  const strangers = new Set(unvouched);
  return {
    ties: [
      ...pictureTies(pictures, NEARLY_SAME_BITS),
      ...recordings.map(({ tester, other }) => [tester, other] as const),
      ...reviewerTies(approvals),
      ...others.map((other) => [first as string, other] as const),
    ],
    isVouched: (tester) => !strangers.has(tester),
  };
}
