import { NEARLY_SAME_BITS } from '@/lib/files/pictureHash';
import { type ShownPhoto, shownPhotos } from '@/lib/run/fields/shownReadings';
import type { Actor } from '@/lib/run/roles';
import { picturesById, picturesLike } from '@/lib/store/pictures';
import type { Registry } from '../registry';
import { isVisible } from '../runs/run';

/** One of a run's pictures beside one of another run. */
export interface SharedPicture {
  own: ShownPhoto;
  runNumber: number;
  /** The other run is of the same tester. */
  isOwn: boolean;
  isSame: boolean;
  differingBits: number;
  /** Null where the reader may not see the other run, or where it is still a draft. */
  other: { photo: ShownPhoto; tester: string } | null;
}

/** Most pairs that are shown: those of other testers come first, the likest of them before. */
const MOST_PAIRS = 12;

/** The pictures of other runs that are, or look like, those given, as far as the reader may see both. */
export async function sharedPictures(
  registry: Registry,
  actor: Actor | undefined,
  photos: readonly ShownPhoto[],
): Promise<SharedPicture[]> {
  const ids = photos.map(({ id }) => id);
  const found = (await picturesLike(registry.db, ids, NEARLY_SAME_BITS)).slice(0, MOST_PAIRS);
  if (found.length === 0) return [];
  const rows = await picturesById(
    registry.db,
    found.map(({ otherId }) => otherId),
  );
  const others = new Map(rows.map((row) => [row.id, row]));
  return found.flatMap(({ ownId, otherId, runNumber, isOwn, isSame, differingBits }) => {
    const own = photos.find(({ id }) => id === ownId);
    if (own === undefined) return [];
    const row = others.get(otherId);
    const isSeen = row !== undefined && row._count.revisions > 0 && isVisible(actor, row.run);
    const [photo] = isSeen ? shownPhotos([{ evidence: row }]) : [];
    const other = photo && row ? { photo, tester: row.run.tester.displayName } : null;
    return [{ own, runNumber, isOwn, isSame, differingBits, other }];
  });
}
