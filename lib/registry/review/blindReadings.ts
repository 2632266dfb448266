import { readingsOnPhotos } from '@/lib/capture/blindEntry';
import type { Person } from '@/lib/protocol/runTrail';
import type { ShownPhoto } from '@/lib/run/fields/shownReadings';
import { photoLabel } from '@/lib/run/fields/table';
import { readingsToRetype, retypedOf } from '@/lib/store/retypedReadings';
import { type UnitCode, unitSymbol } from '@/lib/units/unit';
import type { Registry } from '../registry';

/** A reading that a photo shows, as this reviewer may see it. */
export interface BlindReading {
  quantity: string;
  label: string;
  unit: string;
  photoKind: string;
  photoLabel: string;
  /** Null while it is hidden: then what the tester typed is not here either. */
  seen: { typed: string; yours: string | null; agrees: boolean | null } | null;
}

export interface BlindReadings {
  /** Those that a photo shows. */
  readings: BlindReading[];
  /** The quantities that this reviewer does not see yet. */
  hidden: ReadonlySet<string>;
  /** What other reviewers read otherwise; none while this one's own entry is to come. */
  others: { by: Person; typed: number; differ: { label: string; text: string; testers: string }[] }[];
}

/**
 * What one reviewer sees of the readings on photos. Where they may still decide, what the tester typed is left out until
 * they have typed theirs; whoever only reads along sees all.
 */
export async function blindReadings(
  registry: Registry,
  reviewerId: string,
  revision: { id: string; isBlind: boolean },
  photos: readonly ShownPhoto[],
): Promise<BlindReadings> {
  const [{ readings }, kept] = await Promise.all([
    readingsToRetype(registry.db, revision.id),
    retypedOf(registry.db, revision.id),
  ]);
  const onPhotos = readingsOnPhotos(readings, photos);
  const own = new Map(kept.filter((row) => row.reviewerId === reviewerId).map((row) => [row.quantity, row]));
  const shown = onPhotos.map(({ field, reading, photoKind }): BlindReading => {
    const mine = own.get(field.name);
    const isSeen = mine !== undefined || !revision.isBlind;
    return {
      quantity: field.name,
      label: field.label,
      unit: unitSymbol(reading.enteredUnit as UnitCode),
      photoKind,
      photoLabel: photoLabel(photoKind),
      seen: isSeen
        ? { typed: reading.enteredText, yours: mine?.text ?? null, agrees: mine?.agrees ?? null }
        : null,
    };
  });
  const hidden = new Set(shown.filter(({ seen }) => seen === null).map(({ quantity }) => quantity));
  return { readings: shown, hidden, others: hidden.size > 0 ? [] : othersOf(kept, reviewerId, onPhotos) };
}

function othersOf(
  kept: Awaited<ReturnType<typeof retypedOf>>,
  reviewerId: string,
  onPhotos: ReturnType<typeof readingsOnPhotos>,
): BlindReadings['others'] {
  const fields = new Map(onPhotos.map(({ field, reading }) => [field.name as string, { field, reading }]));
  const byReviewer = new Map<string, typeof kept>();
  for (const row of kept) {
    if (row.reviewerId === reviewerId || row.text === null) continue;
    byReviewer.set(row.reviewerId, [...(byReviewer.get(row.reviewerId) ?? []), row]);
  }
  return [...byReviewer.values()].flatMap((rows) => {
    const by = rows[0]?.reviewer;
    if (by === undefined) return [];
    const differ = rows.flatMap(({ quantity, text, agrees }) => {
      const known = fields.get(quantity);
      return agrees === false && known && text !== null
        ? [{ label: known.field.label, text, testers: known.reading.enteredText }]
        : [];
    });
    return [{ by, typed: rows.length, differ }];
  });
}
