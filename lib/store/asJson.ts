import type { Prisma } from '@/prisma/generated/client';

/**
 * What a column of JSON is given: through JSON, so that what is stored is what a reader of the column gets. What has no
 * JSON is left out, and infinite numbers are written as null, which the readers in the rooms' `stored.ts` know.
 */
export function asJson(value: object | null): Prisma.InputJsonValue {
  return JSON.parse(JSON.stringify(value)) as Prisma.InputJsonValue;
}
