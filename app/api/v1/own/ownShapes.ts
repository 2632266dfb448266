import { z } from 'zod';
import type { InputIssue } from '@/lib/run/errors';
import { RUN_STATUSES } from '@/lib/run/runStatus';
import { count, text } from '../shapes';
import { placeOf } from './places';

export const status = z.enum(RUN_STATUSES).meta({ description: 'Where the run stands' });

/** Where in what was sent, and what is the matter there. */
export const fault = z
  .object({
    detail: text('What is wrong, why, and what to do about it'),
    pointer: text('JSON pointer into the body, as a fragment (RFC 6901, 6)').optional(),
    parameter: text('Part of the query').optional(),
    header: text('Header').optional(),
  })
  .meta({ id: 'Fault' });

export function faultOf({ path, what, why, fix }: InputIssue): z.input<typeof fault> {
  return { detail: [what, why, fix].filter((words) => words !== '').join(' '), ...placeOf(path) };
}

export const toDo = z
  .array(fault)
  .meta({ description: 'What keeps it from being sent; empty where nothing does' });

export const draftRef = z
  .object({
    id: z.uuid().meta({ description: 'Id of the run, for addresses' }),
    number: count('Number of the run, once it is public'),
    draftVersion: count('Rises with each change of the draft; the ETag in quotes'),
    toDo,
  })
  .meta({ id: 'DraftReference' });

export const ruled = {
  ruleId: text('Rule of the protocol'),
  title: text('Its title'),
  field: text('The field of the draft to look at first').nullable(),
};

export const found = z
  .object({ ...ruled, outcome: text('pass, caution, fail or notChecked'), sentence: text('What was found') })
  .meta({ id: 'OwnFinding' });

export const photo = z
  .object({
    id: z.uuid().meta({ description: 'Id of the photo' }),
    kind: text('What it shows'),
    widthPx: count('Width as kept, pixels'),
    heightPx: count('Height as kept, pixels'),
  })
  .meta({ id: 'OwnPhoto' });
