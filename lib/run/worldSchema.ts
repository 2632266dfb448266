import { z } from 'zod';
import { isWorldKey } from './world';

/** The world that a form or a request names. */
export const worldSchema = z.string().refine(isWorldKey, {
  error:
    'There is no such world. | Runs belong to the record, the demo world or one other registry. | Choose one of them.',
});
