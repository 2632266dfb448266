import { MarkedPart } from '@/app/ui/MarkedPart';
import { Minute } from '@/app/ui/When';
import type { ShownPhoto, ShownReading } from '@/lib/run/fields/shownReadings';

/** What a photo shows, in words that tell it from the others. */
export function photoName(photo: ShownPhoto, photos: readonly ShownPhoto[]): string {
  const same = photos.filter((one) => one.kind === photo.kind);
  return same.length === 1
    ? photo.label
    : `${photo.label}, photo ${same.indexOf(photo) + 1} of ${same.length}`;
}

interface PhotosProps {
  photos: readonly ShownPhoto[];
  readings: readonly ShownReading[];
  utcOffsetMin: number;
  /** Where a photo says no time. */
  noTime?: string;
}

/** Small pictures that lead to the full ones, each with the readings that its tester marked on it, enlarged. */
export function Photos({ photos, readings, utcOffsetMin, noTime = 'no time in the picture' }: PhotosProps) {
  if (photos.length === 0) return <p className="text-sm text-ink-soft">No photos were sent.</p>;
  return (
    <ul className="flex flex-wrap gap-4" aria-label="Evidence photos">
      {photos.map((photo) => (
        <li key={photo.id} className="w-44 border border-rule bg-sheet p-1.5 text-sm">
          <a href={`/files/${photo.sha256}`} className="block">
            {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
            <img
              src={`/files/${photo.thumbSha256}`}
              alt={`${photoName(photo, photos)}, opens in full size`}
              className="h-32 w-full object-contain"
              // Small, and wanted on paper as well, which nobody scrolls.
              fetchPriority="low"
            />
          </a>
          <p className="pt-1">{photoName(photo, photos)}</p>
          <p className="num text-xs text-ink-soft">
            {photo.capturedAt ? <Minute at={photo.capturedAt} utcOffsetMin={utcOffsetMin} /> : noTime}
          </p>
          <Proven photo={photo} readings={readings} />
        </li>
      ))}
    </ul>
  );
}

function Proven({ photo, readings }: { photo: ShownPhoto; readings: readonly ShownReading[] }) {
  return readings.flatMap(({ quantity, label, enteredText, enteredUnit }) => {
    const mark = photo.marks.find(({ field }) => field === quantity);
    if (mark === undefined) return [];
    return (
      <div key={quantity} className="mt-2">
        <p className="num text-xs">
          {label} {enteredText} {enteredUnit}
        </p>
        <MarkedPart photo={photo} mark={mark} label={label} heightRem={3.5} />
      </div>
    );
  });
}
