import { SANS, SERIF } from './Picture';
import { paint } from './paint';
import type { PictureShape } from './pictureShape';
import { wrapWhole } from './textFit';

interface CardPictureProps {
  title: string;
  description: string;
  address: string;
  shape: PictureShape;
}

const WIDTH = 640;
const MARGIN = 40;

/** A page in words, for a link that is shared where the page has no figure of its own. */
export function CardPicture({ title, description, address, shape }: CardPictureProps) {
  const height = (WIDTH * shape.height) / shape.width;
  const room = WIDTH - 2 * MARGIN;
  // Letters of the serif face are wider than those the measure knows.
  const heading = wrapWhole(title, room / 1.14, 38);
  const said = wrapWhole(description, room, 18);
  const below = MARGIN + 46 + heading.length * 44;
  return (
    <svg
      xmlns="http://www.w3.org/2000/svg"
      width={shape.width}
      height={shape.height}
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-labelledby="card-title"
      fontFamily={SANS}
      fill={paint.ink}
    >
      <title id="card-title">{title}</title>
      <rect width={WIDTH} height={height} fill={paint.paper} />
      <path d={`M${MARGIN} ${MARGIN - 8}H${WIDTH - MARGIN}`} stroke={paint.accent} strokeWidth="3" />
      {heading.map((line, index) => (
        <text
          key={line}
          x={MARGIN}
          y={MARGIN + 46 + index * 44}
          fontFamily={SERIF}
          fontWeight={600}
          fontSize={38}
        >
          {line}
        </text>
      ))}
      {said.map((line, index) => (
        <text key={line} x={MARGIN} y={below + index * 26} fontSize={18} fill={paint['ink-soft']}>
          {line}
        </text>
      ))}
      <text x={MARGIN} y={height - MARGIN} fontSize={15} fill={paint['ink-soft']}>
        {`Evenloop · ${address}`}
      </text>
    </svg>
  );
}
