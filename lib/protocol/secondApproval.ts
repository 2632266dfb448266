/**
 * When one approval is not enough. The limits are common practice, no source: low enough that most runs of known
 * testers need one reader, high enough that an account with a friend among the reviewers meets another one.
 */
export const SECOND_APPROVAL = {
  /** Approved runs from which on an account's runs are not its first any more. */
  firstRuns: 3,
  /** Of the tester's latest approvals so many are looked at … */
  pairAmong: 10,
  /** … and the same reviewer gave at least so many of them … */
  pairLeast: 3,
  /** … and at least this share. */
  pairShare: 0.5,
} as const;

/** The ids are stored with decisions, so they never change. */
export const SECOND_REASONS = ['lead', 'screening', 'firstRuns', 'pair'] as const;
export type SecondReason = (typeof SECOND_REASONS)[number];

const WORDS: Readonly<Record<SecondReason, string>> = {
  lead: 'it would change which setup leads its class',
  screening: 'it lies outside what the screening expects of its setup’s runs',
  firstRuns: 'it is among the first runs of its tester’s account',
  pair: 'the same reviewer has approved most of this tester’s latest runs',
};

/** What a stored reason says; one of another release says that it is unknown here. */
export function secondReasonWords(reason: string): string {
  const known = SECOND_REASONS.find((one) => one === reason);
  return known === undefined ? 'a reason of another release' : WORDS[known];
}

/** A setup's place in its class: the mean of ln(Wh/km) that the published fit has for it. */
interface PlacedSetup {
  setupId: string;
  logMean: number;
}

export interface ApprovalCircumstances {
  /** The run's own ln(Wh/km) at reference conditions; null where the method makes no number of it. */
  z: number | null;
  /** Its setup in the published fit, with the runs that it rests on; null where the fit has none of it. */
  own: (PlacedSetup & { runs: number }) | null;
  setupId: string;
  /** The ranked setups of its class by their means, the lowest first: two are enough. */
  leaders: readonly PlacedSetup[];
  /** Of the screening: anything but consistent lies outside; null where it cannot judge the run. */
  verdict: 'consistent' | 'straggler' | 'outlier' | null;
  /** Runs of the tester that were approved before. */
  approvedOfTester: number;
  /** Who approved the tester's latest runs, the last first. */
  latestApprovers: readonly string[];
  reviewerId: string;
}

/** Why an approval by this reviewer would need a second one; empty where it does not. */
export function secondReasons(of: ApprovalCircumstances): SecondReason[] {
  const applies: Readonly<Record<SecondReason, boolean>> = {
    lead: changesLead(of),
    screening: of.verdict === 'straggler' || of.verdict === 'outlier',
    firstRuns: of.approvedOfTester < SECOND_APPROVAL.firstRuns,
    pair: repeatsPair(of),
  };
  return SECOND_REASONS.filter((reason) => applies[reason]);
}

/**
 * Whether the lowest mean of the class would be another setup's. The fit is not made anew for this: the setup's mean
 * moves by the run's share in a plain mean (common practice, no source), which is more than a fit with shared days
 * and cars would let it move. A class without a ranked setup has no lead.
 */
function changesLead({ z, own, setupId, leaders }: ApprovalCircumstances): boolean {
  const [first, second] = leaders;
  if (z === null || first === undefined) return false;
  const moved = own === null ? z : own.logMean + (z - own.logMean) / (own.runs + 1);
  return first.setupId === setupId ? second !== undefined && moved > second.logMean : moved < first.logMean;
}

function repeatsPair({ latestApprovers, reviewerId }: ApprovalCircumstances): boolean {
  const latest = latestApprovers.slice(0, SECOND_APPROVAL.pairAmong);
  const same = latest.filter((id) => id === reviewerId).length;
  return same >= SECOND_APPROVAL.pairLeast && same >= SECOND_APPROVAL.pairShare * latest.length;
}
