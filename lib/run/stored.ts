import { z } from 'zod';
import type { UnitChoice } from './displayUnits';
import { QUANTITY_FIELDS } from './fields/table';
import { ID_FIELDS, isChosenId } from './formIds';
import type { BearingShare, ElevationPoint, OutlinePoint } from './loopShape';
import { type PhotoMark, photoMarkSchema } from './photoMarks';
import type { RunForm } from './runForm';

/**
 * What this room's stored JSON may look like. A reader never throws: what cannot be read is left out, and where that
 * leaves nothing, what is read is empty and the page says so. Keys that nobody reads any more do no harm.
 */
const finite = z.number();
const bearingShares = z.array(z.object({ bearingDeg: finite, share: finite.min(0) }));
const outlinePoints = z.array(z.object({ x: finite, y: finite }));
const elevationPoints = z.array(z.object({ distanceM: finite, heightM: finite }));

/** A spread of directions. A part of one would give a false picture, so it is read whole or is empty. */
export function readBearings(stored: unknown): BearingShare[] {
  return bearingShares.catch([]).parse(stored);
}

/** A route's outline, whole or empty; null was stored where there is none. */
export function readOutline(stored: unknown): OutlinePoint[] {
  return outlinePoints.catch([]).parse(stored);
}

/** Heights along the way, whole or empty; null was stored where there are none. */
export function readElevation(stored: unknown): ElevationPoint[] {
  return elevationPoints.catch([]).parse(stored);
}

/**
 * A form as typed: texts stay, what is none cannot have been typed and is left out. An id that
 * can name nothing counts as not chosen, so that an odd draft opens and can be corrected.
 */
export function readForm(stored: unknown): RunForm {
  const texts: [string, string][] = [];
  for (const [name, value] of Object.entries(recordOf(stored))) {
    if (typeof value !== 'string') continue;
    texts.push([name, ID_FIELDS.has(name) && !isChosenId(value) ? '' : value]);
  }
  return Object.fromEntries(texts);
}

/** The units kept with a car, by quantity, as far as they are units of the form's fields. */
export function readDisplayUnits(stored: unknown): UnitChoice {
  const kept = recordOf(stored);
  return Object.fromEntries(
    QUANTITY_FIELDS.flatMap(({ name, units }) => {
      const known = units.find((unit) => unit === kept[name]);
      return known === undefined ? [] : [[name, known]];
    }),
  );
}

/** The marks on a photo; one that cannot be read is left out, the others stand. */
export function readMarks(stored: unknown): PhotoMark[] {
  if (!Array.isArray(stored)) return [];
  return stored.flatMap((mark) => {
    const { data } = photoMarkSchema.safeParse(mark);
    return data === undefined ? [] : [data];
  });
}

const record = z.record(z.string(), z.unknown());

function recordOf(stored: unknown): Record<string, unknown> {
  return record.catch({}).parse(stored);
}
