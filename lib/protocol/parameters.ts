import type { POLICIES } from './policies';
import type { LimitsOf, ParameterValue, Rule } from './rule';
import type { AnyRuleLimits } from './rules/allRules';

type Intersection<Union> = (Union extends unknown ? (member: Union) => void : never) extends (
  all: infer All,
) => void
  ? All
  : never;

/** By section and key, as a version's JSON has them. */
export type Sections = Readonly<Record<string, Readonly<Record<string, ParameterValue>>>>;

type RuleSections = Intersection<AnyRuleLimits>;
type PolicySections = LimitsOf<typeof POLICIES>;

/** Limits in place of the version's own for a run recorded afterwards: only the keys that differ. */
interface RetrospectiveLimits {
  retrospective: {
    limits?: {
      readonly [Section in keyof RuleSections]?: Readonly<Partial<RuleSections[Section]>>;
    };
  };
}

/**
 * Every limit and choice of today's rules and policies, in canonical units, the unit last in the name.
 * All are values of the registry's own; none is quoted from a standard. Which rule reads which, with label and the
 * unit that it is best shown in, stands with the rule.
 */
export type CompleteParameters = RuleSections & PolicySections & RetrospectiveLimits;

/** A version as it was stored: a section of a rule that it is older than is not there. */
export type ProtocolParameters = Partial<RuleSections> & PolicySections & Partial<RetrospectiveLimits>;

/** A protocol version as the rules need it. */
export interface ProtocolVersion {
  label: string;
  parameters: ProtocolParameters;
}

/** A version as the program ships it, to be put in force by a steward. */
export interface ShippedVersion extends ProtocolVersion {
  /** What it is about and what changed, for readers. */
  summary: string;
}

/** The version's own limits, or those that hold for a run recorded afterwards. */
export function sectionsFor(parameters: ProtocolParameters, isRetrospective: boolean): Sections {
  const { limits: instead, ...retrospective } = parameters.retrospective ?? {};
  const own: Sections = { ...parameters, ...(parameters.retrospective ? { retrospective } : {}) };
  if (!isRetrospective || instead === undefined) return own;
  const replaced = Object.entries<Sections[string] | undefined>(instead).map(
    ([section, values]) => [section, { ...own[section], ...values }] as const,
  );
  return { ...own, ...Object.fromEntries(replaced) };
}

/** The limits by which a rule judges under a version; undefined where the version does not judge by it. */
export function limitsOfRule(rule: Rule, stated: Sections): LimitsOf<Rule['schema']> | undefined {
  if (isStated(rule, stated)) return stated;
  return rule.absence === 'notJudged' ? undefined : rule.absence.heldBy;
}

/** A rule is part of a version that states all of its limits. */
function isStated(rule: Rule, stated: Sections): boolean {
  return Object.entries(rule.schema).every(([section, schema]) =>
    Object.entries(schema.shape).every(
      ([key, leaf]) => stated[section]?.[key] !== undefined || leaf.safeParse(undefined).success,
    ),
  );
}
