import { photoName } from '@/app/runDossier/Photos';
import type { ReviewView } from '@/lib/registry/review/review';
import { markedPhoto } from '@/lib/run/photoMarks';
import { BlindEntry } from './BlindEntry';
import { PhotoDesk } from './PhotoDesk';
import { ReadingsBeside } from './ReadingsBeside';
import { RetypedTable } from './RetypedTable';

/** The photos with, beside them, the fields to type what they show, or the readings once that is done. */
export function ReadingsPart({ view }: { view: ReviewView }) {
  const { run, blind, review } = view;
  const photos = run.photos.map((photo) => ({ ...photo, name: photoName(photo, run.photos) }));
  const hidden = blind.readings.filter(({ seen }) => seen === null);
  return (
    <div className="grid gap-x-10 gap-y-8 lg:grid-cols-2">
      <div className="space-y-6">
        {hidden.length === 0 ? null : review.kind === 'mine' ? (
          <>
            <p className="text-sm">
              Read these off the photos first. What the tester typed is shown beside yours when you have; your
              entry is kept. The rules’ numbers are computed from what was typed.
            </p>
            <BlindEntry
              runId={run.runId}
              revisionNumber={run.revisionNumber}
              fields={hidden.map(({ quantity, label, unit, photoLabel }) => ({
                quantity,
                label,
                unit,
                photoLabel,
                proof: markedPhoto(photos, quantity),
              }))}
            />
          </>
        ) : (
          <p className="text-sm">
            {hidden.length} {hidden.length === 1 ? 'reading stands' : 'readings stand'} on the photos: whoever
            claims the run reads them there before seeing what the tester typed.
          </p>
        )}
        <RetypedTable blind={blind} />
        <ReadingsBeside readings={run.readings} photos={photos} />
      </div>
      <div className="lg:sticky lg:top-4 lg:self-start">
        <PhotoDesk utcOffsetMin={run.subject.utcOffsetMin} photos={photos} />
      </div>
    </div>
  );
}
