import { z } from 'zod';
import { QUANTITY_FIELDS, type RunQuantity } from './fields/table';

/**
 * Where on a photo a reading stands: a box that its tester drew once, in fractions of the picture's width and height
 * from its top left corner, so that it holds for the picture in any size. Nothing reads the number off it but people.
 */

export interface Box {
  left: number;
  top: number;
  width: number;
  height: number;
}

export interface PhotoMark extends Box {
  field: RunQuantity;
}

/** A smaller box could not be hit by a pointer, nor hold a digit of any photo that is taken. */
export const SMALLEST_SIDE = 0.02;

/** Sums of two fractions may miss 1 by the last binary digit. */
const ROUNDING = 1e-6;

const names = QUANTITY_FIELDS.map(({ name }) => name) as [RunQuantity, ...RunQuantity[]];
const place = z.number().min(0).max(1);
const side = z.number().min(SMALLEST_SIDE - ROUNDING, {
  error: 'The frame is too small. | A number would not fit into it. | Draw it round the number.',
});

export const photoMarkSchema = z
  .object({
    field: z.enum(names, {
      error: 'Unknown reading. | A frame belongs to one reading of the form. | Choose one.',
    }),
    left: place,
    top: place,
    width: side.max(1),
    height: side.max(1),
  })
  .refine(({ left, top, width, height }) => left + width <= 1 + ROUNDING && top + height <= 1 + ROUNDING, {
    error: 'The frame leaves the picture. | It says where on the picture the number is. | Draw it inside.',
  });

/** One frame a reading; a photo shows a few. */
export const photoMarksSchema = z
  .array(photoMarkSchema)
  .max(names.length)
  .refine((marks) => new Set(marks.map(({ field }) => field)).size === marks.length, {
    error: 'A reading is marked twice. | One frame says where it is. | Keep one of them.',
  });

/** The photo on which a reading is marked, the first where several are, with its mark. */
export function markedPhoto<Photo extends { marks: readonly PhotoMark[] }>(
  photos: readonly Photo[],
  field: string,
): { photo: Photo; mark: PhotoMark } | undefined {
  for (const photo of photos) {
    const mark = photo.marks.find((one) => one.field === field);
    if (mark !== undefined) return { photo, mark };
  }
  return undefined;
}

interface Point {
  x: number;
  y: number;
}

/** The box between two corners, whichever they are, kept inside the picture and never too small. */
export function boxBetween(one: Point, other: Point): Box {
  const [left, width] = span(one.x, other.x);
  const [top, height] = span(one.y, other.y);
  return { left, top, width, height };
}

function span(one: number, other: number): [number, number] {
  const low = inside(Math.min(one, other), 1);
  const size = Math.max(SMALLEST_SIDE, inside(Math.max(one, other), 1) - low);
  return [inside(low, 1 - size), size];
}

/** The box moved, as far as the picture goes. */
export function moved(box: Box, by: Point): Box {
  return {
    ...box,
    left: inside(box.left + by.x, 1 - box.width),
    top: inside(box.top + by.y, 1 - box.height),
  };
}

/** The box made wider and taller, its top left corner held, as far as the picture goes. */
export function resized(box: Box, by: Point): Box {
  return {
    ...box,
    width: Math.max(SMALLEST_SIDE, inside(box.width + by.x, 1 - box.left)),
    height: Math.max(SMALLEST_SIDE, inside(box.height + by.y, 1 - box.top)),
  };
}

/** The box round a point, in the size that it has. */
export function centredOn(box: Box, { x, y }: Point): Box {
  return moved({ ...box, left: 0, top: 0 }, { x: x - box.width / 2, y: y - box.height / 2 });
}

/** What is shown of a picture for a box: the box with half its height of what is around it, kept in the picture. */
export function partAround({ left, top, width, height }: Box): Box {
  const [x, y] = [width / 6, height / 2];
  return boxBetween({ x: left - x, y: top - y }, { x: left + width + x, y: top + height + y });
}

function inside(value: number, most: number): number {
  return Math.min(Math.max(value, 0), Math.max(most, 0));
}
