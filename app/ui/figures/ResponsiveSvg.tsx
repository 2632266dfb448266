import { type ReactNode, useId } from 'react';
import { paint } from './paint';

/** The room a drawing has, in its own units; one unit is about one pixel. */
export interface Frame {
  width: number;
  /** For a phone: labels over their marks, fewer ticks. */
  compact: boolean;
  /** Letter size that stays readable at every width the drawing is shown in. */
  text: number;
}

export interface Drawing {
  height: number;
  content: ReactNode;
}

/** 'page' shows the drawing that fits; 'file' is the wide one alone, on paper, to be saved. */
export type FigureTarget = 'page' | 'file';

interface ResponsiveSvgProps {
  /** Names the figure for assistive technology. */
  title: string;
  /** Says in a sentence what it shows. */
  desc: string;
  draw: (frame: Frame) => Drawing;
  target?: FigureTarget;
}

export const wideFrame: Frame = { width: 860, compact: false, text: 14 };
export const compactFrame: Frame = { width: 358, compact: true, text: 12.5 };

/**
 * Draws a figure twice, for a wide and for a narrow place, and lets the width of its container
 * choose. Text is never scaled below 11 px in a container of 320 px or more.
 */
export function ResponsiveSvg({ title, desc, draw, target = 'page' }: ResponsiveSvgProps) {
  if (target === 'file') return <OneSvg title={title} desc={desc} frame={wideFrame} draw={draw} file />;
  return (
    <div className="@container">
      <div className="max-w-[34rem] @3xl:hidden">
        <OneSvg title={title} desc={desc} frame={compactFrame} draw={draw} />
      </div>
      <div className="hidden max-w-[58rem] @3xl:block">
        <OneSvg title={title} desc={desc} frame={wideFrame} draw={draw} />
      </div>
    </div>
  );
}

interface OneSvgProps extends Omit<ResponsiveSvgProps, 'target'> {
  frame: Frame;
  file?: boolean;
}

function OneSvg({ title, desc, frame, draw, file = false }: OneSvgProps) {
  const id = useId();
  const { height, content } = draw(frame);
  const own = file
    ? {
        xmlns: 'http://www.w3.org/2000/svg',
        width: frame.width,
        height,
        fontFamily: "'Source Sans 3 Variable', 'Source Sans 3', 'Segoe UI', sans-serif",
      }
    : { className: 'figure-svg block h-auto w-full' };
  return (
    <svg
      {...own}
      role="img"
      aria-labelledby={`${id}t ${id}d`}
      viewBox={`0 0 ${frame.width} ${height}`}
      fontSize={frame.text}
      fill={paint.ink}
    >
      <title id={`${id}t`}>{title}</title>
      <desc id={`${id}d`}>{desc}</desc>
      {file ? <rect width={frame.width} height={height} fill={paint.paper} /> : null}
      {content}
    </svg>
  );
}
