import type { Queryable } from './database';

export function secondFactorOf(db: Queryable, accountId: string) {
  return db.secondFactor.findUnique({
    where: { accountId },
    select: {
      secret: true,
      confirmedAt: true,
      _count: { select: { recoveryCodes: { where: { usedAt: null } } } },
    },
  });
}

/** A new secret in place of one that was not confirmed; false where one is in use. */
export async function replaceUnconfirmed(
  db: Queryable,
  factor: { accountId: string; secret: string; createdAt: Date },
): Promise<boolean> {
  const { accountId } = factor;
  await db.secondFactor.deleteMany({ where: { accountId, confirmedAt: null } });
  const { count } = await db.secondFactor.createMany({ data: [factor], skipDuplicates: true });
  return count === 1;
}

/** True when this call put it in use. */
export async function confirmFactor(
  db: Queryable,
  { accountId, secret, step, at }: { accountId: string; secret: string; step: number; at: Date },
): Promise<boolean> {
  const { count } = await db.secondFactor.updateMany({
    where: { accountId, secret, confirmedAt: null },
    data: { confirmedAt: at, lastStep: step },
  });
  return count === 1;
}

/** True when no code of this step or a later one was used before: a code that was seen opens nothing again. */
export async function spendStep(db: Queryable, accountId: string, step: number): Promise<boolean> {
  const { count } = await db.secondFactor.updateMany({
    where: { accountId, confirmedAt: { not: null }, lastStep: { lt: step } },
    data: { lastStep: step },
  });
  return count === 1;
}

export async function insertRecoveryCodes(
  db: Queryable,
  accountId: string,
  hashes: readonly string[],
): Promise<void> {
  await db.recoveryCode.createMany({ data: hashes.map((hash) => ({ hash, accountId })) });
}

/** True when this call used it up. */
export async function spendRecoveryCode(
  db: Queryable,
  accountId: string,
  hash: string,
  usedAt: Date,
): Promise<boolean> {
  const { count } = await db.recoveryCode.updateMany({
    where: { hash, accountId, usedAt: null },
    data: { usedAt },
  });
  return count === 1;
}

/** With its recovery codes. */
export async function removeSecondFactor(db: Queryable, accountId: string): Promise<boolean> {
  const { count } = await db.secondFactor.deleteMany({ where: { accountId, confirmedAt: { not: null } } });
  return count === 1;
}
