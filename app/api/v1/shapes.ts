import { z } from 'zod';
import { word } from './resource';

/** What several answers hold. Energies per distance are in Wh/km, as everywhere inside; an address never changes that. */

const number = (description: string) => z.number().meta({ description });
export const whPerKm = (description: string) => number(`${description}, Wh/km`);
export const count = (description: string) => z.int().min(0).meta({ description });
export const text = (description: string) => z.string().meta({ description });
export const day = (description: string) =>
  z.union([z.iso.date(), z.string().regex(/^\d{4}-\d{2}$/)]).meta({
    description: `${description}, at the loop; its month alone (2026-11) where the tester publishes no more`,
  });
export const slug = (of: string) => text(`Part of the address of ${of}`);

export const world = z
  .string()
  .meta({ id: 'World', description: '“record” is what was driven; “demo” is invented and marked so.' });

export const named = (of: string) => z.object({ slug: slug(of), name: text(`Name of ${of}`) });

/** 95 %, lower end first. */
export const interval = (of: string) =>
  z
    .array(z.number())
    .length(2)
    .meta({ description: `95 % interval of ${of}: lower and upper end` });

export const estimate = z
  .object({
    runs: count('Runs behind it'),
    cars: count('Physical cars'),
    testers: count('Testers'),
    loops: count('Loops'),
    days: count('Days'),
    estimateWhPerKm: whPerKm('Consumption at reference conditions as fitted, of a further car of the model'),
    lowWhPerKm: whPerKm('Lower end of the 95 % interval; null where none can be given').nullable(),
    highWhPerKm: whPerKm('Upper end of the 95 % interval; null where none can be given').nullable(),
    intervalKind: text('What the interval holds, or “none”'),
    rawMeanWhPerKm: whPerKm('Plain mean as measured, not normalised').nullable(),
    isRanked: z.boolean().meta({ description: 'Whether it meets what a place in the ranking asks' }),
    label: text('What a reader has to know of so few data; empty where nothing'),
  })
  .meta({ id: 'Estimate' });

export const difference = z
  .object({
    percent: number(
      'Difference in consumption, % of the baseline’s; null where the two may not be compared',
    ).nullable(),
    pointwise: interval('the pair alone, %').nullable(),
    ofModel: interval('all pairs of the model at once, %').nullable(),
    simultaneous: interval('all pairs of the class at once, %').nullable(),
    word: z
      .enum(['settled', 'probable', 'leaning', 'undecided'])
      .nullable()
      .meta({ description: 'How strong the evidence is; null without an interval' }),
    restsOnOne: z.boolean().meta({ description: 'It would be settled, but rests on one tester' }),
    connection: text('What joins the two in the data'),
    refusal: text('Why the two may not be compared, or have no interval').nullable(),
    isAssumed: z
      .boolean()
      .meta({ description: 'How well runs repeat is partly assumed: the class is young' }),
    detectablePercent: number(
      'Smallest true difference that these runs would find with a chance of 80 %, %',
    ).nullable(),
  })
  .meta({ id: 'Difference' });

export const level = z
  .object({
    factor: text('Factor'),
    key: text('Key'),
    label: text('Level'),
    isAsDelivered: z.boolean().meta({ description: 'As the model is delivered' }),
  })
  .meta({ id: 'Level' });

export const classKey = word('Key of a cruise class; without it that with most runs', 'kmh-110');
export const worldAsked = word('“record” or “demo”; without it the record where it has anything', 'demo');
export const cursor = word('Cursor of a page, from the answer before');

export const cruiseClass = z
  .object({ key: text('Key'), label: text('Label'), runs: count('Runs of its fit') })
  .meta({ id: 'CruiseClass' });

/** A page of a list; `next` and `previous` are whole addresses, null at the ends. */
export function pageOf<Row extends z.ZodType>(row: Row) {
  return z.object({
    items: z.array(row),
    total: count('Of all pages'),
    next: text('Cursor of the next page, for `from`').nullable(),
    previous: text('Cursor of the page before, for `from`').nullable(),
  });
}

export function page<From, To>(
  found: {
    rows: readonly From[];
    total: number;
    next: string | undefined;
    previous: string | undefined;
  },
  row: (of: From) => To,
) {
  return {
    items: found.rows.map(row),
    total: found.total,
    next: found.next ?? null,
    previous: found.previous ?? null,
  };
}
