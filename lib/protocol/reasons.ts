import type { InputIssue } from '@/lib/run/errors';
import type { FindingResult } from './evaluate';
import { wordsOfRule } from './rules/allRules';
import { join } from './wording';

export interface ReasonChoice {
  ruleId: string;
  title: string;
  /** Text to start from; the reviewer may edit it. */
  template: string;
}

export interface ReasonChoices {
  /** Rules that failed: a rejection or a request for changes names each of them. */
  mustCite: ReasonChoice[];
  /** The rest, gravest first; a pass may be cited where the photo shows what the numbers do not. */
  mayCite: ReasonChoice[];
}

const ORDER = ['caution', 'notChecked', 'pass'] as const;

/** The rules that a rejection or a request for changes must and may name. */
export function requiredReasons(findings: readonly FindingResult[]): ReasonChoices {
  const choicesOf = (outcome: FindingResult['outcome']): ReasonChoice[] =>
    findings
      .filter((finding) => finding.outcome === outcome)
      .map((finding) => ({
        ruleId: finding.ruleId,
        title: wordsOfRule(finding.ruleId).title,
        template: reasonTemplate(finding),
      }));
  return { mustCite: choicesOf('fail'), mayCite: ORDER.flatMap(choicesOf) };
}

/** What the tester will read: what was found, and what to do about it. */
export function reasonTemplate(finding: FindingResult): string {
  const { title, guidance } = wordsOfRule(finding.ruleId);
  if (finding.outcome === 'pass') {
    return join(`${title}: the photos and the numbers do not show this.`, guidance);
  }
  return join(`${title}: ${finding.sentence}`, guidance);
}

const LINE_LENGTH = 280;

/** Why a run came back, in a line of the reviewer's own words: the note, or else the first reason. Empty without both. */
export function reviewersWords({
  note,
  reasons,
}: {
  note: string;
  reasons: readonly { text: string }[];
}): string {
  const said = [note, ...reasons.map(({ text }) => text)].filter((text) => text.trim() !== '');
  const line = (said[0] ?? '').replaceAll(/\s+/g, ' ').trim();
  const cut = line.length > LINE_LENGTH ? `${line.slice(0, LINE_LENGTH - 1).trimEnd()}…` : line;
  const more = said.length - 1;
  return more > 0 ? `${cut} (and ${more === 1 ? 'one reason' : `${more} reasons`} more)` : cut;
}

/**
 * What is wrong with the reasons of a rejection or a request for changes; empty where nothing is.
 * Paths are `reasons` for the list and `reasons.<rule>` for one of them.
 */
export function checkReasons(
  findings: readonly FindingResult[],
  reasons: readonly { ruleId: string; text: string }[],
): InputIssue[] {
  const { mustCite, mayCite } = requiredReasons(findings);
  const known = new Set([...mustCite, ...mayCite].map((choice) => choice.ruleId));
  const cited = new Set(reasons.map((reason) => reason.ruleId));
  const issues: InputIssue[] = [];
  if (reasons.length === 0) {
    issues.push({
      path: 'reasons',
      what: 'No reason is given.',
      why: 'A tester must be able to see which rule a decision rests on.',
      fix: 'Choose at least one rule and say what was found.',
    });
  }
  for (const { ruleId, title } of mustCite.filter((choice) => !cited.has(choice.ruleId))) {
    issues.push({
      path: `reasons.${ruleId}`,
      what: `The failed rule “${title}” is not named.`,
      why: 'Every failed rule is answered, so that one correction is enough.',
      fix: 'Add it with its text.',
    });
  }
  for (const { ruleId, text } of reasons) {
    if (!known.has(ruleId)) {
      issues.push({
        path: `reasons.${ruleId}`,
        what: `“${ruleId}” is not a rule that judged this run.`,
        why: 'A reason is tied to a finding of the run.',
        fix: 'Choose a rule from the list of findings.',
      });
    } else if (text.trim() === '') {
      issues.push({
        path: `reasons.${ruleId}`,
        what: 'The text is empty.',
        why: 'The tester needs to know what was found.',
        fix: 'Write what is wrong and what to do, or take the suggested text.',
      });
    }
  }
  if (cited.size < reasons.length) {
    issues.push({
      path: 'reasons',
      what: 'A rule is named twice.',
      why: 'The record keeps one text a rule.',
      fix: 'Join the two texts.',
    });
  }
  return issues;
}
