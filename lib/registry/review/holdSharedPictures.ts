import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import type { Queryable } from '@/lib/store/database';
import { evidenceOfRevision } from '@/lib/store/evidence';
import { wasHeldSince } from '@/lib/store/holds';
import { type FoundPicture, picturesLike } from '@/lib/store/pictures';
import { endHold, type HeldRun, placeHold } from './holdRun';

const KIND = 'sharedPictures';

/** So many of the other runs are named. */
const MOST_NAMED = 5;

/** Numbers of other testers' runs that had the pictures first. */
function runsOfOthers(pictures: readonly Pick<FoundPicture, 'isOwn' | 'runNumber'>[]): number[] {
  return [...new Set(pictures.filter(({ isOwn }) => !isOwn).map(({ runNumber }) => runNumber))];
}

/**
 * With each submission: a run whose photos are, or look like, those of another tester's earlier run does not count until
 * a steward lifts the hold. One sent again with photos of its own is let go.
 */
export async function holdSharedPictures(
  tx: Queryable,
  run: HeldRun,
  pictures: readonly Pick<FoundPicture, 'isOwn' | 'runNumber'>[],
  at: Date,
): Promise<void> {
  const others = runsOfOthers(pictures);
  if (others.length > 0) {
    await placeHold(tx, run, { kind: KIND, reason: reasonOf(others), placedById: null }, at);
    return;
  }
  const reason = 'It was sent again with photos that are on no other tester’s run.';
  await endHold(tx, run, { reason, by: null, kind: KIND }, at);
}

/**
 * Before an approval counts: pictures are asked for once more where the submission was not held, as the hashes of older
 * ones may have been made since. A hold that somebody lifted is not placed again.
 */
export async function holdBeforeItCounts(
  tx: Queryable,
  run: HeldRun,
  revision: { id: string; submittedAt: Date },
  at: Date,
): Promise<void> {
  if (await wasHeldSince(tx, { runId: run.id, kind: KIND, since: revision.submittedAt })) return;
  const ids = await evidenceOfRevision(tx, revision.id);
  const others = runsOfOthers(await picturesLike(tx, ids, NEARLY_SAME_BITS));
  if (others.length === 0) return;
  await placeHold(tx, run, { kind: KIND, reason: reasonOf(others), placedById: null }, at);
}

function reasonOf(others: readonly number[]): string {
  const named = others.slice(0, MOST_NAMED).map((number) => `run ${number}`);
  const more = others.length - named.length;
  const list = [...named, ...(more > 0 ? [`${more} more`] : [])].join(', ');
  return `A photo of it is, or looks like, one of ${list} of another tester.`;
}
