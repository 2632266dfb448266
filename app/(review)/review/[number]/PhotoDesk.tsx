'use client';

import { type ReactNode, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { Frames } from '@/app/ui/PhotoFrame';
import { wallClockWords } from '@/lib/run/localDate';
import type { PhotoMark } from '@/lib/run/photoMarks';

export interface DeskPhoto {
  id: string;
  name: string;
  sha256: string;
  thumbSha256: string;
  widthPx: number;
  heightPx: number;
  capturedAt: string | null;
  /** Framed on the picture; the first photo that has any is shown first. */
  marks: readonly PhotoMark[];
}

const ZOOMS = [1, 1.5, 2, 3, 4, 6] as const;

/** Evidence in full size: zoomed and turned by buttons, moved by scrolling. Without scripts the links still open it. */
export function PhotoDesk({ photos, utcOffsetMin }: { photos: readonly DeskPhoto[]; utcOffsetMin: number }) {
  const [index, setIndex] = useState(() =>
    Math.max(
      0,
      photos.findIndex(({ marks }) => marks.length > 0),
    ),
  );
  const [zoom, setZoom] = useState(0);
  const [turns, setTurns] = useState(0);
  const photo = photos[index];
  if (photo === undefined) return <p className="text-sm text-ink-soft">No photos were sent.</p>;
  const show = (next: number) => {
    setIndex(next);
    setZoom(0);
    setTurns(0);
  };
  const times = ZOOMS[zoom] ?? 1;
  return (
    <div>
      <section
        aria-label={`${photo.name}, scroll to move`}
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
        tabIndex={0}
        className="h-[28rem] max-h-[70vh] overflow-auto border border-rule-strong bg-wash"
      >
        <TurnedPhoto photo={photo} times={times} turns={turns} />
      </section>
      <div className="mt-2 flex flex-wrap items-center gap-2">
        <Tool id="photo-zoom-out" disabled={zoom === 0} onPress={() => setZoom(zoom - 1)}>
          Zoom out
        </Tool>
        <Tool id="photo-zoom-in" disabled={zoom === ZOOMS.length - 1} onPress={() => setZoom(zoom + 1)}>
          Zoom in
        </Tool>
        <Tool id="photo-turn" onPress={() => setTurns((turns + 1) % 4)}>
          Turn
        </Tool>
        <Tool id="photo-next" disabled={photos.length < 2} onPress={() => show((index + 1) % photos.length)}>
          Next photo
        </Tool>
        <a className="link ml-auto text-sm" href={`/files/${photo.sha256}`}>
          Open the file
        </a>
      </div>
      <p role="status" className="num mt-1 text-sm">
        {photo.name}, {times}×{turns === 0 ? '' : `, turned ${90 * turns}°`}
        <span className="text-ink-soft">
          {' '}
          ·{' '}
          {photo.capturedAt
            ? `taken ${wallClockWords(Date.parse(photo.capturedAt), utcOffsetMin)}`
            : 'no time in the picture'}
        </span>
      </p>
      <ul className="mt-3 flex flex-wrap gap-2" aria-label="Photos of this run">
        {photos.map((one, place) => (
          <li key={one.id}>
            <a
              href={`/files/${one.sha256}`}
              aria-current={place === index ? 'true' : undefined}
              onClick={(event) => {
                event.preventDefault();
                show(place);
              }}
              className="block border-2 border-transparent p-0.5 aria-[current=true]:border-accent"
            >
              {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
              <img
                src={`/files/${one.thumbSha256}`}
                alt={`Show ${one.name}`}
                className="h-16 w-20 object-contain"
              />
            </a>
          </li>
        ))}
      </ul>
    </div>
  );
}

interface ToolProps {
  id: string;
  disabled?: boolean;
  onPress: () => void;
  children: ReactNode;
}

/** A tool that has reached its end stays focusable, so that the keyboard does not lose its place. */
function Tool({ id, disabled = false, onPress, children }: ToolProps) {
  return (
    <Button id={id} aria-disabled={disabled || undefined} onClick={() => (disabled ? undefined : onPress())}>
      {children}
    </Button>
  );
}

/** A quarter turn swaps the sides of the room that the picture takes. */
function TurnedPhoto({ photo, times, turns }: { photo: DeskPhoto; times: number; turns: number }) {
  const ratio = photo.widthPx / photo.heightPx;
  const isSideways = turns % 2 === 1;
  return (
    <div
      className="relative"
      style={{ width: `${100 * times}%`, aspectRatio: isSideways ? 1 / ratio : ratio }}
    >
      <div
        className="absolute top-1/2 left-1/2"
        style={{
          width: isSideways ? `${100 * ratio}%` : '100%',
          transform: `translate(-50%, -50%) rotate(${90 * turns}deg)`,
        }}
      >
        {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
        <img src={`/files/${photo.sha256}`} alt={photo.name} className="w-full max-w-none" />
        <Frames marks={photo.marks} />
      </div>
    </div>
  );
}
