import { z } from 'zod';
import type { UnitCode } from '@/lib/units/unit';

/** How a rule may end where it was able to judge. */
const VERDICTS = ['pass', 'caution', 'fail'] as const;
/** What the absence of something asked for counts as. */
const ABSENCES = ['notChecked', 'caution', 'fail'] as const;
export type Absence = (typeof ABSENCES)[number];

/** What a page needs to show or edit one parameter. */
export interface ParameterMeta {
  label: string;
  /** The unit it is best shown in; stored in the canonical unit of that dimension. '' for a bare number. */
  unit: UnitCode | '';
}

const described = <T extends z.ZodType>(schema: T, label: string, unit: UnitCode | '' = ''): T =>
  schema.meta({ label, unit } satisfies ParameterMeta);

/** A limit that cannot lie below zero. */
export const limit = (label: string, unit: UnitCode | '') =>
  described(z.number().nonnegative().max(1e9), label, unit);

/** A limit on a share 0..1, shown in percent. */
export const share = (label: string) => described(z.number().min(0).max(1), label, '%');

export const temperature = (label: string) => described(z.number().min(-80).max(80), label, 'degC');

export const count = (label: string) => described(z.number().int().min(1).max(1000), label);

/** A probability: significance levels and p-values. */
export const probability = (label: string) => described(z.number().gt(0).lt(1), label);

export const verdict = (label: string) => described(z.enum(VERDICTS), label);

export const absence = (label: string) => described(z.enum(ABSENCES), label);

/** Where an absence must never go unmarked. */
export const markedAbsence = (label: string) => described(z.enum(['caution', 'fail']), label);

export const choice = (label: string) => described(z.boolean(), label);

/**
 * A section whose numbers must not decrease in the given order, so that a band for cautions always encloses
 * the band for passes.
 */
export function ascending<S extends z.ZodRawShape>(
  shape: S,
  ...chains: readonly (readonly (keyof S & string)[])[]
): z.ZodObject<S> {
  return z.object(shape).superRefine((section, context) => {
    const numbers = section as Readonly<Record<string, unknown>>;
    for (const chain of chains) {
      chain.slice(1).forEach((upper, index) => {
        const lower = chain[index] ?? upper;
        if (Number(numbers[lower]) > Number(numbers[upper])) {
          context.addIssue({
            code: 'custom',
            path: [upper],
            message: `must not be below ${lower}`,
            params: { lower },
          });
        }
      });
    }
  });
}
