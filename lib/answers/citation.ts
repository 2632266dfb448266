import { dateText, dayWords } from '@/lib/run/localDate';

/** How to name a result: one sentence with everything that pins it down. */
interface Cited {
  /** YYYY-MM-DD: the day as of which it holds. */
  asOf: string;
  methodVersion: string;
  /** Whole. */
  address: string;
  isDemo: boolean;
  /** The latest one of its world, where there is one. */
  snapshot: CitedSnapshot | undefined;
}

/** What was published to be taken away, by which every number can be computed again. */
export interface CitedSnapshot {
  name: string;
  asOf: Date;
}

/** Where the data are kept unchanged; it may be older or newer than what is cited, so it says of when it is. */
export function snapshotInCitation(snapshot: CitedSnapshot | undefined): string {
  return snapshot === undefined
    ? ''
    : ` Latest snapshot of the data: ${snapshot.name}, as of ${dayWords(dateText(snapshot.asOf))}.`;
}

export interface CitedStudy extends Cited {
  by: string;
  question: string;
  /** In words: "running". */
  state: string;
  model: string;
  classLabel: string;
  loopName: string;
  counted: { runs: number; days: number };
  planVersion: number;
}

export interface CitedComparison extends Cited {
  setups: readonly string[];
  baseline: string;
  models: readonly string[];
  classLabel: string;
  fitRuns: number;
}

export function studyCitation(of: CitedStudy): string {
  const { runs, days } = of.counted;
  const asked = /[.?!]$/.test(of.question.trim()) ? of.question.trim() : `${of.question.trim()}.`;
  return cited(
    `${of.by}: “${asked}” Study (${of.state.toLowerCase()}) of the ${of.model}, ${of.classLabel}, ${of.loopName}; ${runs} ${runs === 1 ? 'run' : 'runs'} on ${days} ${days === 1 ? 'day' : 'days'}, plan version ${of.planVersion}, method ${of.methodVersion}`,
    of,
  );
}

export function comparisonCitation(of: CitedComparison): string {
  return cited(
    `${of.setups.join('; ')} against ${of.baseline}: ${of.models.join(', ')}, ${of.classLabel}; from the fit of ${of.fitRuns} runs, method ${of.methodVersion}`,
    of,
  );
}

function cited(words: string, { asOf, address, isDemo, snapshot }: Cited): string {
  return `${words}, as of ${dayWords(asOf)}. Evenloop, ${address}.${snapshotInCitation(snapshot)}${isDemo ? ' Demo world, invented data.' : ''}`;
}
