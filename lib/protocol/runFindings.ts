import { TELLING_WHEN } from '@/lib/run/publishedDay';
import type { Said } from '@/lib/units/said';
import { countOutcomes, type OutcomeCounts } from './evaluate';
import type { FindingNumber, Outcome } from './rule';
import { RULES, ruleById, wordsOfRule } from './rules/allRules';

/** What one rule found, with the rule's own words. */
export interface ShownFinding {
  ruleId: string;
  title: string;
  group: string;
  outcome: Outcome;
  sentence: string;
  said?: Said | undefined;
  why: string;
  guidance: string;
  numbers: FindingNumber[];
  /** False for a rule that this release does not have: its page of the protocol cannot show it. */
  isKnown: boolean;
}

export interface ShownFindings {
  protocolLabel: string;
  counts: OutcomeCounts;
  /** Fails before cautions; each in the order of the protocol. */
  notable: ShownFinding[];
  notChecked: ShownFinding[];
  passed: ShownFinding[];
}

export interface FindingRow {
  ruleId: string;
  outcome: Outcome;
  numbers: FindingNumber[];
  sentence: string;
  said?: Said | undefined;
  protocolVersion: { label: string };
}

/** The findings for a reader who is not told when the run was driven. */
export function withoutWhen<Row extends Pick<FindingRow, 'ruleId' | 'numbers'>>(rows: readonly Row[]): Row[] {
  return rows.map((row) => (TELLING_WHEN.includes(row.ruleId) ? { ...row, numbers: [] } : row));
}

/** A revision's findings under the protocol version that it is pinned to, the grave ones first. */
export function shownFindings(rows: readonly FindingRow[], protocolLabel: string): ShownFindings {
  const pinned = rows.filter((row) => row.protocolVersion.label === protocolLabel);
  const order = new Map(RULES.map((rule, index) => [rule.id, index]));
  const place = (row: FindingRow) => order.get(row.ruleId) ?? RULES.length;
  const all = [...pinned].sort((a, b) => place(a) - place(b)).map(shownFinding);
  const of = (outcome: Outcome) => all.filter((finding) => finding.outcome === outcome);
  return {
    protocolLabel,
    counts: countOutcomes(pinned),
    notable: [...of('fail'), ...of('caution')],
    notChecked: of('notChecked'),
    passed: of('pass'),
  };
}

function shownFinding(row: FindingRow): ShownFinding {
  const { title, group, why, guidance } = wordsOfRule(row.ruleId);
  return {
    ruleId: row.ruleId,
    title,
    group,
    outcome: row.outcome,
    sentence: row.sentence,
    said: row.said,
    why,
    guidance,
    numbers: row.numbers,
    isKnown: ruleById(row.ruleId) !== undefined,
  };
}
