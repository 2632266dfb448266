import type { Prisma, PrismaClient } from '@/prisma/generated/client';

export type Database = PrismaClient;

/** Inside a transaction, or the client itself: what a query needs to run. */
export type Queryable = PrismaClient | Prisma.TransactionClient;

/** SQLSTATE classes that a use case turns into a domain error; the rest are faults. */
export function isUniqueViolation(error: unknown): boolean {
  return codeOf(error) === 'P2002' || mentions(error, '23505');
}

export function isExclusionViolation(error: unknown): boolean {
  return mentions(error, '23P01') || mentions(error, 'exclusion constraint');
}

function codeOf(error: unknown): string | undefined {
  return error instanceof Error && 'code' in error && typeof error.code === 'string' ? error.code : undefined;
}

/** The adapter passes the server's code in the message or in `meta`, depending on the kind of error. */
function mentions(error: unknown, text: string): boolean {
  if (!(error instanceof Error)) return false;
  if (error.message.includes(text)) return true;
  return 'meta' in error && JSON.stringify(error.meta ?? null).includes(text);
}
