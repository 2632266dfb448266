import type { PointerEvent } from 'react';
import type { PhotoMark } from '@/lib/run/photoMarks';
import { percent } from './MarkedPart';

interface Point {
  x: number;
  y: number;
}

interface PhotoFrameProps {
  photo: { sha256: string; widthPx: number; heightPx: number };
  alt: string;
  marks: readonly PhotoMark[];
  /** The one that is drawn at present. */
  current: PhotoMark | undefined;
  className?: string;
  /** Places are fractions of the picture; a pointer that was taken away ends nowhere. */
  onStart: (point: Point) => void;
  onMove: (point: Point) => void;
  onEnd: (point: Point | undefined) => void;
}

/** A whole picture with frames on it, on which a pointer can draw one. */
export function PhotoFrame({
  photo,
  alt,
  marks,
  current,
  className,
  onStart,
  onMove,
  onEnd,
}: PhotoFrameProps) {
  return (
    <div
      className={`relative overflow-hidden bg-wash ${className ?? ''}`}
      style={{ aspectRatio: photo.widthPx / photo.heightPx }}
      onPointerDown={(event) => {
        if (event.button !== 0) return;
        event.preventDefault();
        event.currentTarget.setPointerCapture(event.pointerId);
        onStart(placeOf(event));
      }}
      onPointerMove={(event) => onMove(placeOf(event))}
      onPointerUp={(event) => onEnd(placeOf(event))}
      onPointerCancel={() => onEnd(undefined)}
    >
      {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
      <img src={`/files/${photo.sha256}`} alt={alt} draggable={false} className="h-full w-full" />
      <Frames marks={marks} />
      {current ? <Frames marks={[current]} isCurrent /> : null}
    </div>
  );
}

/** Frames over the picture that they lie in, dark on a light edge so that they show on any photo. */
export function Frames({ marks, isCurrent = false }: { marks: readonly PhotoMark[]; isCurrent?: boolean }) {
  return marks.map(({ field, left, top, width, height }) => (
    <span
      key={field}
      aria-hidden="true"
      className={`pointer-events-none absolute border-ink ring-paper ${isCurrent ? 'border-2 ring-2' : 'border border-dashed ring-1'}`}
      style={{ left: percent(left), top: percent(top), width: percent(width), height: percent(height) }}
    />
  ));
}

function placeOf(event: PointerEvent<HTMLElement>): Point {
  const { left, top, width, height } = event.currentTarget.getBoundingClientRect();
  return { x: (event.clientX - left) / width, y: (event.clientY - top) / height };
}
