import type { ReactNode } from 'react';
import type { Display } from '@/lib/units/display';
import { Still } from '../Still';
import { paint } from './paint';

/** The room a drawing has, in its own units; one unit is about one pixel. */
export interface Frame {
  width: number;
  /** For a phone: labels over their marks, fewer ticks. */
  compact: boolean;
  /** Letter size that stays readable at every width the drawing is shown in. */
  text: number;
  /** In a picture of fixed shape: the height that there is. */
  room?: number;
  /** For the numbers along an axis; the point unless told. */
  mark?: Display['mark'];
}

export interface Drawing {
  height: number;
  content: ReactNode;
}

interface ResponsiveSvgProps {
  draw: (frame: Frame) => Drawing;
}

export const wideFrame: Frame = { width: 860, compact: false, text: 14 };
export const compactFrame: Frame = { width: 300, compact: true, text: 12.5 };

/**
 * Draws a figure twice, for a wide and for a narrow place, and lets the width of its container
 * choose. Text is never below 12 px on a window of 320 px, which leaves 288 px between the page's margins, nor much above
 * the page's own.
 */
export function ResponsiveSvg(props: ResponsiveSvgProps) {
  return (
    <div className="@container">
      <Still className="max-w-[24rem] @min-[43rem]:hidden">
        <Svg {...props} frame={compactFrame} />
      </Still>
      <Still className="hidden max-w-[58rem] @min-[43rem]:block">
        <Svg {...props} frame={wideFrame} />
      </Still>
    </div>
  );
}

/** Not for those who hear the page: the caption says what it shows, and the table has every number once. */
function Svg({ frame, draw }: ResponsiveSvgProps & { frame: Frame }) {
  const drawing = draw(frame);
  return (
    <svg
      className="figure-svg block h-auto w-full"
      aria-hidden="true"
      focusable="false"
      viewBox={`0 0 ${frame.width} ${Math.ceil(drawing.height)}`}
      fontSize={frame.text}
      fill={paint.ink}
    >
      {drawing.content}
    </svg>
  );
}
