import type { z } from 'zod';
import type { InputIssue } from '@/lib/run/errors';
import { parseQuantity } from '@/lib/units/parse';
import { fieldsOfSchema, PARAMETER_FIELDS, type ParameterField } from '../parameterFields';
import { type ProtocolParameters, type Sections, sectionsFor } from '../parameters';
import { POLICIES } from '../policies';
import type { LimitsSchema, ParameterValue, Rule } from '../rule';
import { RULES } from '../rules/allRules';
import { readStoredParameters } from '../stored';
import { NEWEST_VERSION } from '../versions/newestVersion';
import { scaleOf, writeLimit } from '../wording';
import {
  fieldsAtHome,
  fieldsOfRule,
  isIn,
  type LimitPart,
  limitName,
  limitText,
  policyFieldsOf,
  ruleName,
  rulesOfPart,
} from './limitForm';

type Edited = { ok: true; parameters: ProtocolParameters } | { ok: false; issues: InputIssue[] };
type Leaves = Map<string, ParameterValue>;

const FIELD_OF = new Map(PARAMETER_FIELDS.map((field) => [field.path, field]));

/**
 * A draft's parameters with one part of them as it was entered; other parts stay as they are. A text that says what is
 * there already leaves the stored value untouched, to the last bit. A rule left out takes along the limits that no rule
 * left reads.
 */
export function editedLimits(
  parameters: ProtocolParameters,
  part: LimitPart,
  texts: ReadonlyMap<string, string>,
): Edited {
  const before = sectionsFor(parameters, false);
  const own = leavesOf(before);
  const afterwards = leavesOf(parameters.retrospective?.limits ?? {});
  const newest = leavesOf(sectionsFor(NEWEST_VERSION.parameters, false));
  const issues: InputIssue[] = [];
  const take = (field: ParameterField) => {
    const { path } = field;
    const value = typedValue(
      texts.get(limitName(false, path)) ?? '',
      field,
      own.get(path) ?? newest.get(path),
    );
    if (value.ok) own.set(path, value.value);
    else issues.push(issueAt(limitName(false, path), value));
    const text = texts.get(limitName(true, path)) ?? '';
    if (text.trim() === '') {
      afterwards.delete(path);
      return;
    }
    const instead = typedValue(text, field, afterwards.get(path));
    if (!instead.ok) issues.push(issueAt(limitName(true, path), instead));
    else if (value.ok && instead.value === value.value && !afterwards.has(path)) return;
    else afterwards.set(path, instead.value);
  };
  const wanted = rulesOfPart(part).filter(
    (rule) => rule.absence !== 'notJudged' || texts.get(ruleName(rule)) === 'yes',
  );
  for (const rule of wanted) {
    for (const field of fieldsAtHome(rule)) take(field);
    for (const { path } of fieldsOfRule(rule)) own.set(path, own.get(path) ?? required(newest, path));
  }
  for (const field of policyFieldsOf(part)) take(field);
  const kept = RULES.filter((rule) => (rule.group === part ? wanted.includes(rule) : isIn(rule, before)));
  const read = new Set(kept.flatMap(fieldsOfRule).map(({ path }) => path));
  for (const { path } of rulesOfPart(part).flatMap(fieldsOfRule)) {
    if (read.has(path)) continue;
    own.delete(path);
    afterwards.delete(path);
  }
  if (issues.length === 0)
    for (const schema of [
      ...wanted.map((rule: Rule) => rule.schema),
      ...(part === 'further' ? [POLICIES] : []),
    ])
      issues.push(...issuesUnder(schema, own, afterwards));
  if (issues.length > 0) return { ok: false, issues: onePerField(issues) };
  const limits = sectionsOf(afterwards);
  const sections: Record<string, object> = sectionsOf(own);
  if (Object.keys(limits).length > 0) sections.retrospective = { ...sections.retrospective, limits };
  return { ok: true, parameters: readStoredParameters(sections) };
}

type Read = { ok: true; value: ParameterValue } | { ok: false; what: string; fix: string };

function typedValue(text: string, field: ParameterField, stored: ParameterValue | undefined): Read {
  const typed = text.trim();
  if (stored !== undefined && typed === limitText(stored, field)) return { ok: true, value: stored };
  if (field.kind === 'yesNo')
    return typed === 'yes' || typed === 'no'
      ? { ok: true, value: typed === 'yes' }
      : { ok: false, what: `“${field.label}” is not chosen.`, fix: 'Choose yes or no.' };
  if (field.kind === 'choice')
    return field.options.includes(typed)
      ? { ok: true, value: typed }
      : { ok: false, what: `“${field.label}” is not chosen.`, fix: 'Choose one of the list.' };
  // The number of metres is the number itself.
  const parsed = parseQuantity(typed, field.unit === '' ? 'm' : field.unit, { allowNegative: true });
  return parsed.ok
    ? { ok: true, value: parsed.value }
    : { ok: false, what: `“${field.label}” is not a number.`, fix: 'Enter one, for example 24.6.' };
}

/** What a rule's own schema has against the limits, for all runs and for those recorded afterwards. */
function issuesUnder(schema: LimitsSchema, own: Leaves, afterwards: Leaves): InputIssue[] {
  const fields = fieldsOfSchema(schema);
  return [false, true].flatMap((isAfterwards) => {
    const stated = isAfterwards ? new Map([...own, ...afterwards]) : own;
    return Object.entries(schema).flatMap(([section, shape]) => {
      const values = fields
        .filter((field) => field.section === section && stated.has(field.path))
        .map(({ key, path }) => [key, stated.get(path)]);
      const checked = shape.safeParse(Object.fromEntries(values));
      return (checked.error?.issues ?? []).map((issue) => {
        const path = `${section}.${String(issue.path[0])}`;
        const name = limitName(isAfterwards && afterwards.has(path), path);
        return issueAt(name, wordsOf(issue, section, FIELD_OF.get(path)));
      });
    });
  });
}

function wordsOf(
  issue: z.core.$ZodIssue,
  section: string,
  field: ParameterField | undefined,
): { what: string; fix: string } {
  const label = field?.label ?? String(issue.path[0]);
  const write = (limit: number | bigint) => writeLimit(Number(limit), scaleOf(field?.unit ?? ''));
  if (issue.code === 'too_small') {
    const from = write(issue.minimum);
    return {
      what: `“${label}” is too low.`,
      fix: issue.inclusive ? `Enter ${from} or more.` : `Enter more than ${from}.`,
    };
  }
  if (issue.code === 'too_big') {
    const to = write(issue.maximum);
    return {
      what: `“${label}” is too high.`,
      fix: issue.inclusive ? `Enter ${to} or less.` : `Enter less than ${to}.`,
    };
  }
  if (issue.code === 'custom' && typeof issue.params?.lower === 'string') {
    const lower = FIELD_OF.get(`${section}.${issue.params.lower}`)?.label ?? issue.params.lower;
    return { what: `“${label}” is below “${lower}”.`, fix: 'Enter the same or more, or lower the other.' };
  }
  if (issue.code === 'invalid_type')
    return { what: `“${label}” is not a whole number.`, fix: 'Enter a whole number.' };
  return { what: `“${label}” cannot be this.`, fix: 'Enter another value.' };
}

function issueAt(path: string, { what, fix }: { what: string; fix: string }): InputIssue {
  return { path, what, why: 'No run could be judged by it.', fix };
}

/** The same limit may be refused twice, for all runs and for those recorded afterwards. */
function onePerField(issues: readonly InputIssue[]): InputIssue[] {
  return [...new Map(issues.map((issue) => [issue.path, issue])).values()];
}

function leavesOf(sections: Readonly<Record<string, Sections[string] | undefined>>): Leaves {
  return new Map(
    Object.entries(sections).flatMap(([section, values]) =>
      Object.entries(values ?? {}).map(([key, value]) => [`${section}.${key}`, value] as const),
    ),
  );
}

function sectionsOf(leaves: Leaves): Record<string, Record<string, ParameterValue>> {
  const sections: Record<string, Record<string, ParameterValue>> = {};
  for (const [path, value] of leaves) {
    const [section = '', key = ''] = path.split('.');
    sections[section] = { ...sections[section], [key]: value };
  }
  return sections;
}

function required(leaves: Leaves, path: string): ParameterValue {
  const value = leaves.get(path);
  if (value === undefined) throw new RangeError(`the newest version does not state ${path}`);
  return value;
}
