import { z } from 'zod';

/** The fields of a run form whose text is an id. */
export const ID_FIELDS: ReadonlySet<string> = new Set(['carId', 'setupId', 'loopId']);

const ID = z.uuid();

/** Whether a form's text can be the id of something at all. */
export function isChosenId(text: string): boolean {
  return ID.safeParse(text.trim()).success;
}
