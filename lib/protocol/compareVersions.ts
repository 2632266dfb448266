import {
  fieldsOfSchema,
  PARAMETER_FIELDS,
  type ParameterField,
  parameterAt,
  writeParameter,
} from './parameterFields';
import type { ProtocolVersion } from './parameters';
import type { ParameterValue } from './rule';
import { describeRule, type RuleDescription } from './ruleCatalogue';
import { RULES } from './rules/allRules';

export interface ParameterChange {
  /** `section.key` */
  path: string;
  /** Of the limits that hold for runs recorded afterwards. */
  isRetrospective: boolean;
  label: string;
  before: string;
  after: string;
  sentence: string;
}

export interface VersionDifferences {
  /** Rules that only the new version judges by. */
  added: RuleDescription[];
  /** Rules that it no longer judges by. */
  dropped: RuleDescription[];
  /** Of the rules and policies that both have, in the order of the parameters. */
  changes: ParameterChange[];
}

/** What changes from one protocol version to another, in words. */
export function differencesBetween(from: ProtocolVersion, to: ProtocolVersion): VersionDifferences {
  const rules = RULES.map((rule) => ({
    rule,
    before: describeRule(rule, from.parameters),
    after: describeRule(rule, to.parameters),
  }));
  const ofBoth = rules.filter(({ before, after }) => before !== undefined && after !== undefined);
  const read = new Set(ofBoth.flatMap(({ rule }) => fieldsOfSchema(rule.schema)).map(({ path }) => path));
  const ofOneOnly = new Set(
    rules
      .filter((each) => !ofBoth.includes(each))
      .flatMap(({ rule }) => fieldsOfSchema(rule.schema))
      .map(({ path }) => path),
  );
  const fields = PARAMETER_FIELDS.filter(({ path }) => read.has(path) || !ofOneOnly.has(path));
  return {
    added: rules.flatMap(({ before, after }) => (before === undefined && after ? [after] : [])),
    dropped: rules.flatMap(({ before, after }) => (after === undefined && before ? [before] : [])),
    changes: fields.flatMap((field) => {
      const own = changeOf(field, false, from, to);
      const afterwards = changeOf(field, true, from, to);
      const isSame = own?.before === afterwards?.before && own?.after === afterwards?.after;
      return [own, isSame ? undefined : afterwards].filter((change) => change !== undefined);
    }),
  };
}

function changeOf(
  field: ParameterField,
  isRetrospective: boolean,
  from: ProtocolVersion,
  to: ProtocolVersion,
): ParameterChange | undefined {
  const old = parameterAt(from.parameters, field, isRetrospective);
  const next = parameterAt(to.parameters, field, isRetrospective);
  if (old === next) return undefined;
  const write = (value: ParameterValue | undefined) =>
    value === undefined ? 'not stated' : writeParameter(value, field);
  const [before, after] = [write(old), write(next)];
  const verb =
    typeof old === 'number' && typeof next === 'number' ? (next > old ? 'raised' : 'lowered') : 'changed';
  const label = isRetrospective ? `Runs recorded afterwards, ${lowered(field.label)}` : field.label;
  return {
    path: field.path,
    isRetrospective,
    label,
    before,
    after,
    sentence: `${label}: ${verb} from ${before} in ${from.label} to ${after} in ${to.label}.`,
  };
}

/** A label in the middle of a sentence; one that begins with a sign stays as it is. */
const lowered = (label: string): string => label.charAt(0).toLowerCase() + label.slice(1);
