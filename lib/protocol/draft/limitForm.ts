import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { fieldsOfSchema, type ParameterField } from '../parameterFields';
import { limitsOfRule, type ProtocolParameters, type Sections, sectionsFor } from '../parameters';
import { POLICIES } from '../policies';
import { type ParameterValue, RULE_GROUPS, type Rule, type RuleGroup } from '../rule';
import { RULES } from '../rules/allRules';
import { NEWEST_VERSION } from '../versions/newestVersion';
import { limitNumber, scaleOf } from '../wording';

/**
 * How the limits of a draft are entered: one form for each group of rules, made of each rule's own schema, and one for
 * what no rule reads. A limit that several rules read stands with the rule whose section it is of alone.
 */

export const FURTHER = 'further';
/** The parts of a version by the word that stands in an address. */
export const LIMIT_PARTS: ReadonlyMap<string, RuleGroup | typeof FURTHER> = new Map(
  [...RULE_GROUPS, FURTHER].map((part) => [part.toLowerCase(), part as RuleGroup | typeof FURTHER]),
);
export type LimitPart = RuleGroup | typeof FURTHER;

export interface LimitEntry extends ParameterField {
  /** Under which it is posted: for all runs, and for those recorded afterwards where the limit is another. */
  name: string;
  afterwardsName: string;
  text: string;
  /** Empty where it is the same. */
  afterwards: string;
}

export interface RuleEntry {
  rule: Pick<Rule, 'id' | 'title' | 'why' | 'appliesTo'>;
  /** Under which it is posted that the version judges by the rule. */
  name: string;
  isIn: boolean;
  /** It holds whatever a version says. */
  isAlwaysIn: boolean;
  entries: LimitEntry[];
}

export interface LimitForm {
  rules: RuleEntry[];
  /** Of no rule. */
  entries: LimitEntry[];
}

const FIELDS = new Map(RULES.map((rule) => [rule, fieldsOfSchema(rule.schema)]));
const POLICY_FIELDS = fieldsOfSchema(POLICIES);

/** The rule that a limit stands with, of those that read it. */
const HOMES = new Map<string, Rule>();
for (const [rule, fields] of FIELDS) {
  for (const { path, section } of fields) {
    const isOwn = Object.keys(rule.schema).every((name) => name === section);
    if (!HOMES.has(path) || isOwn) HOMES.set(path, rule);
  }
}

export const limitName = (isAfterwards: boolean, path: string) =>
  `${isAfterwards ? 'afterwards' : 'limit'}.${path}`;
export const ruleName = ({ id }: Pick<Rule, 'id'>) => `rule.${id}`;

export function fieldsOfRule(rule: Rule): readonly ParameterField[] {
  return FIELDS.get(rule) ?? [];
}

/** What is entered in a part: the limits that stand with its rules. */
export function fieldsAtHome(rule: Rule): readonly ParameterField[] {
  return fieldsOfRule(rule).filter(({ path }) => HOMES.get(path) === rule);
}

export function rulesOfPart(part: LimitPart): readonly Rule[] {
  return RULES.filter(({ group }) => group === part);
}

export function policyFieldsOf(part: LimitPart): readonly ParameterField[] {
  return part === FURTHER ? POLICY_FIELDS : [];
}

/** Whether a version states the limits of a rule; a rule without limits is in every version. */
export function isIn(rule: Rule, own: Sections): boolean {
  return rule.absence !== 'notJudged' || limitsOfRule(rule, own) !== undefined;
}

/** The form of a part, filled with a draft's limits; of rules that it leaves out, with those of the newest version. */
export function limitForm(parameters: ProtocolParameters, part: LimitPart): LimitForm {
  const own = sectionsFor(parameters, false);
  const newest = sectionsFor(NEWEST_VERSION.parameters, false);
  const afterwards: Partial<Record<string, Sections[string]>> = parameters.retrospective?.limits ?? {};
  const entryOf = (field: ParameterField): LimitEntry => {
    const { section, key, path } = field;
    return {
      ...field,
      name: limitName(false, path),
      afterwardsName: limitName(true, path),
      text: limitText(own[section]?.[key] ?? newest[section]?.[key], field),
      afterwards: limitText(afterwards[section]?.[key], field),
    };
  };
  return {
    rules: rulesOfPart(part).map((rule) => ({
      rule,
      name: ruleName(rule),
      isIn: isIn(rule, own),
      isAlwaysIn: rule.absence !== 'notJudged',
      entries: fieldsAtHome(rule).map(entryOf),
    })),
    entries: policyFieldsOf(part).map(entryOf),
  };
}

/** A limit as it is typed: a number in its unit with all of its digits, a choice by its word. */
export function limitText(value: ParameterValue | undefined, { unit }: { unit: UnitCode | '' }): string {
  if (value === undefined) return '';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'string') return value;
  const shown = unit === '' ? value : fromCanonical(value, unit);
  return shown.toFixed(limitNumber(value, scaleOf(unit)).decimals);
}
