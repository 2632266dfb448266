/** A picture's pixels, and the widths of drawing that it may hold, the largest letters first. */
export interface PictureShape {
  width: number;
  height: number;
  /** Widths in the drawing's units: the picture is the drawing of the first that holds everything, enlarged. */
  layouts: readonly number[];
  compact: boolean;
}

/** For a video or a slide, for a phone held upright, for a link that is shared. */
export const pictureShapes: ReadonlyMap<string, PictureShape> = new Map([
  [
    'wide',
    { width: 1920, height: 1080, layouts: [720, 800, 880, 960, 1120, 1280, 1440, 1600], compact: false },
  ],
  ['upright', { width: 1080, height: 1350, layouts: [440, 480, 540, 600, 680, 760, 860], compact: true }],
  ['share', { width: 1200, height: 630, layouts: [700, 760, 840, 920], compact: false }],
]);
