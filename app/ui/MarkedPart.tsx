import { type Box, partAround } from '@/lib/run/photoMarks';

interface MarkedPartProps {
  photo: { sha256: string; widthPx: number; heightPx: number };
  mark: Box;
  /** The reading that stands there. */
  label: string;
  heightRem?: number;
  className?: string;
}

/** The part of a photo that a tester marked, enlarged; it leads to the whole picture. */
export function MarkedPart({ photo, mark, label, heightRem = 5, className = '' }: MarkedPartProps) {
  const part = partAround(mark);
  const ratio = (part.width * photo.widthPx) / (part.height * photo.heightPx);
  return (
    <a
      href={`/files/${photo.sha256}`}
      className={`relative block overflow-hidden border border-rule-strong bg-wash ${className}`}
      style={{ aspectRatio: ratio, width: `min(100%, ${heightRem * ratio}rem)` }}
    >
      {/* biome-ignore lint/performance/noImgElement: an optimiser asks without the cookie that private photos need */}
      <img
        src={`/files/${photo.sha256}`}
        alt={`${label} as the display showed it, opens in full size`}
        loading="lazy"
        className="absolute max-w-none"
        style={{
          width: percent(1 / part.width),
          height: percent(1 / part.height),
          left: percent(-part.left / part.width),
          top: percent(-part.top / part.height),
        }}
      />
    </a>
  );
}

export function percent(share: number): string {
  return `${100 * share}%`;
}
