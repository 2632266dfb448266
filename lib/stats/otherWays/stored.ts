import { z } from 'zod';
import { type OtherWays, WAYS } from './way';

const finite = z.number();
const count = z.int().min(0);

const otherWays = z.object({
  ways: z.array(
    z.object({
      way: z.enum(WAYS),
      difference: finite.nullable(),
      interval: z.tuple([finite, finite]).nullable(),
    }),
  ),
  same: z.array(z.enum(WAYS)),
  carsLeftOut: z
    .object({ cars: count, answered: count, sameSign: count, low: finite, high: finite })
    .nullable(),
});

const details = z.object({
  restsOn: z.array(z.string()).catch([]),
  otherWays: otherWays.optional().catch(undefined),
});

/** What is kept beside the numbers of a pair. */
export interface PairDetails {
  /** Testers that the difference rests on. */
  restsOn: string[];
  /** ln(A) − ln(B) as stored; undefined where it has not been computed. */
  otherWays: OtherWays | undefined;
}

/** The column `details` of a contrast; what cannot be read counts as not there. Never throws. */
export function readPairDetails(stored: unknown): PairDetails {
  const { data } = details.safeParse(stored);
  return { restsOn: data?.restsOn ?? [], otherWays: data?.otherWays };
}
