import type { ReactNode } from 'react';
import { Link } from '@/app/ui/Link';
import type { SharedPicture } from '@/lib/registry/review/sharedPictures';
import type { ShownPhoto } from '@/lib/run/fields/shownReadings';

interface PicturePairsProps {
  pairs: readonly SharedPicture[];
  runNumber: number;
  tester: string;
}

/** Pictures of this run beside those of other runs that are the same or look alike. */
export function PicturePairs({ pairs, runNumber, tester }: PicturePairsProps) {
  return (
    <ul aria-label="Pictures on other runs" className="grid gap-6">
      {pairs.map((pair) => (
        <li key={`${pair.own.id} ${pair.runNumber} ${pair.other?.photo.id ?? ''}`}>
          <p className="mb-2 font-semibold">
            {pair.isSame ? 'The same picture' : 'Nearly the same picture'} as on run {pair.runNumber} of{' '}
            {pair.isOwn ? 'the same tester' : 'another tester'}
            <span className="num font-normal text-ink-soft">
              {' '}
              · {pair.isSame ? 'the same file' : `${pair.differingBits} of 64 bits of their looks differ`}
            </span>
          </p>
          <div className="grid grid-cols-2 gap-4">
            <Picture photo={pair.own} caption={`Run ${runNumber}, ${tester}`} />
            {pair.other === null ? (
              <p className="border border-rule p-3 text-sm text-ink-soft">
                Run {pair.runNumber} is a draft, or not yours to see: its picture is not shown.
              </p>
            ) : (
              <Picture
                photo={pair.other.photo}
                caption={
                  <Link className="link" href={`/runs/${pair.runNumber}`}>
                    Run {pair.runNumber}, {pair.other.tester}
                  </Link>
                }
                of={`of run ${pair.runNumber}`}
              />
            )}
          </div>
        </li>
      ))}
    </ul>
  );
}

interface PictureProps {
  photo: ShownPhoto;
  caption: ReactNode;
  of?: string;
}

function Picture({ photo, caption, of = 'of this run' }: PictureProps) {
  return (
    <figure className="border border-rule bg-sheet p-1.5 text-sm">
      <a href={`/files/${photo.sha256}`} className="block">
        {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
        <img
          src={`/files/${photo.thumbSha256}`}
          alt={`${photo.label} ${of}, opens in full size`}
          className="max-h-72 w-full object-contain"
          loading="lazy"
        />
      </a>
      <figcaption className="pt-1">
        {caption} · {photo.label}
      </figcaption>
    </figure>
  );
}
