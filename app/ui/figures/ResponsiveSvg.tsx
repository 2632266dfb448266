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
  if (target === 'file') {
    // No hook on this way: a route handler renders it outside the page's renderer, and a file's ids are its own.
    return <Svg title={title} desc={desc} frame={wideFrame} draw={draw} id="figure" file />;
  }
  return (
    <div className="@container">
      <div className="max-w-[34rem] @3xl:hidden">
        <PageSvg title={title} desc={desc} frame={compactFrame} draw={draw} />
      </div>
      <div className="hidden max-w-[58rem] @3xl:block">
        <PageSvg title={title} desc={desc} frame={wideFrame} draw={draw} />
      </div>
    </div>
  );
}

interface PageSvgProps extends Omit<ResponsiveSvgProps, 'target'> {
  frame: Frame;
}

function PageSvg(props: PageSvgProps) {
  return <Svg {...props} id={useId()} />;
}

interface SvgProps extends PageSvgProps {
  id: string;
  file?: boolean;
}

function Svg({ title, desc, frame, draw, id, file = false }: SvgProps) {
  const drawing = draw(frame);
  const height = Math.ceil(drawing.height);
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
      aria-labelledby={`${id}-title ${id}-desc`}
      viewBox={`0 0 ${frame.width} ${height}`}
      fontSize={frame.text}
      fill={paint.ink}
    >
      <title id={`${id}-title`}>{title}</title>
      <desc id={`${id}-desc`}>{desc}</desc>
      {file ? <rect width={frame.width} height={height} fill={paint.paper} /> : null}
      {drawing.content}
    </svg>
  );
}
