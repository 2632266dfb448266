import { Conflict } from '@/lib/run/errors';
import type { Queryable } from '@/lib/store/database';
import { hasDecidedOn, type InterestSubjects, interestIn } from '@/lib/store/secondApprovals';
import { isOfOwnStudy } from '@/lib/store/studyRuns';

interface KeptSubjects {
  testerId: string;
  setup: { modelId: string; model: { makerId: string } } | null;
}

export function interestSubjects({ testerId, setup }: KeptSubjects): InterestSubjects {
  return { testerId, modelId: setup?.modelId ?? null, makerId: setup?.model.makerId ?? null };
}

/** Why a reviewer who may review runs at all may not decide on this one. */
export type Ineligible = { kind: 'interest'; of: string } | { kind: 'decidedBefore' } | { kind: 'ownStudy' };

export async function ineligibility(
  db: Queryable,
  accountId: string,
  run: KeptSubjects & { id: string; revisions: readonly { id: string }[] },
): Promise<Ineligible | undefined> {
  const of = await interestIn(db, accountId, interestSubjects(run));
  if (of !== undefined) return { kind: 'interest', of };
  if (await isOfOwnStudy(db, run.id, accountId)) return { kind: 'ownStudy' };
  const revision = run.revisions[0];
  const isDecided = revision !== undefined && (await hasDecidedOn(db, accountId, revision.id));
  return isDecided ? { kind: 'decidedBefore' } : undefined;
}

const OF: Readonly<Record<string, string>> = {
  account: 'its tester',
  maker: 'the maker of its car',
  model: 'the model of its car',
};

export function ineligibleWords(why: Ineligible): string {
  switch (why.kind) {
    case 'interest':
      return `You have declared an interest in ${OF[why.of] ?? 'what it is about'}: another reviewer decides on this run.`;
    case 'ownStudy':
      return 'You run or drive in the study that this run is of: another reviewer decides on it.';
    case 'decidedBefore':
      return 'You have decided on this revision already: another reviewer decides on it now.';
  }
}

/** Throws for a reviewer who keeps out of this run, or who decided on this revision before. */
export async function requireEligible(
  db: Queryable,
  accountId: string,
  run: Parameters<typeof ineligibility>[2],
): Promise<void> {
  const why = await ineligibility(db, accountId, run);
  if (why !== undefined) throw new Conflict(ineligibleWords(why));
}
