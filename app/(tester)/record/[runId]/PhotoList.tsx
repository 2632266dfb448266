import { buttonClass } from '@/app/ui/buttonClass';
import { Minute } from '@/app/ui/When';
import type { FormPhoto } from '@/lib/registry/runs/recordForm';

interface PhotoListProps {
  label: string;
  photos: readonly FormPhoto[];
  /** Of the run's own clock, which the page states with its start. */
  utcOffsetMin: number;
  /** Left out where photos cannot be taken off any more. */
  onRemove?: (photo: FormPhoto) => void;
  /** The photo whose numbers are being marked. */
  openId?: string | undefined;
  onMark?: (photo: FormPhoto) => void;
}

export const markButtonId = (photoId: string) => `mark-${photoId}`;

/** Small pictures that lead to the full ones, each with a button that takes it off and one to say where its numbers are. */
export function PhotoList({ label, photos, utcOffsetMin, onRemove, openId, onMark }: PhotoListProps) {
  if (photos.length === 0) return null;
  return (
    <ul className="mt-3 flex flex-wrap gap-3" aria-label={`Photos: ${label}`}>
      {photos.map((photo, index) => {
        const name = `${label}, photo ${index + 1}`;
        return (
          <li key={photo.id} className="w-36 border border-rule bg-sheet p-1.5 text-sm">
            <a href={`/files/${photo.sha256}`}>
              {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
              <img
                src={`/files/${photo.thumbSha256}`}
                alt={name}
                className="h-24 w-full object-contain"
                loading="lazy"
              />
            </a>
            {photo.capturedAt ? (
              <p className="num pt-1 text-xs text-ink-soft">
                <Minute at={photo.capturedAt} utcOffsetMin={utcOffsetMin} />
              </p>
            ) : null}
            {onMark ? (
              <button
                id={markButtonId(photo.id)}
                type="button"
                aria-expanded={photo.id === openId}
                aria-label={`Mark the numbers on ${name}`}
                onClick={() => onMark(photo)}
                className={`${buttonClass('quiet')} w-full`}
              >
                {photo.marks.length === 0 ? 'Mark numbers' : `Marked: ${photo.marks.length}`}
              </button>
            ) : null}
            {onRemove ? (
              <button
                type="submit"
                name="intent"
                value={`remove:${photo.id}`}
                aria-label={`Remove ${name}`}
                onClick={(event) => {
                  event.preventDefault();
                  onRemove(photo);
                }}
                className={`${buttonClass('quiet')} w-full`}
              >
                Remove
              </button>
            ) : null}
          </li>
        );
      })}
    </ul>
  );
}
