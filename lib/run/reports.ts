/** What anybody with an account can report on a public page, and what comes of it. */
export const REPORTED_KINDS = ['run', 'setup', 'loop', 'model', 'tester'] as const;
export type ReportedKind = (typeof REPORTED_KINDS)[number];

export const REPORT_REASONS = {
  value: 'A value looks wrong',
  copied: 'Photos or readings of somebody else',
  unsafe: 'It shows or asks for unsafe driving',
  personal: 'It shows something personal',
  name: 'A name misleads or offends',
  double: 'It is here twice under two names',
  other: 'Something else',
} as const;
export type ReportReason = keyof typeof REPORT_REASONS;

export const REPORT_DECISIONS = {
  acted: 'Acted on',
  unfounded: 'Looked at, nothing to change',
  elsewhere: 'Dealt with elsewhere',
} as const;
export type ReportDecision = keyof typeof REPORT_DECISIONS;

/** Reports that one account may send within 24 hours. Own judgement: whoever finds more writes them as one. */
export const REPORTS_A_DAY = 10;

/** Where a reported thing's page is. */
export function reportedHref(kind: ReportedKind, key: string): string {
  return `/${kind}s/${key}`;
}

/** A thing in a sentence: "run 12", "the loop North causeway". */
export function reportedWords(kind: ReportedKind, name: string): string {
  return kind === 'run' ? `run ${name}` : `the ${kind} ${name}`;
}
