import type { RunSection } from '@/lib/run/fields/sections';
import { fieldNamed, type RunFieldName } from '@/lib/run/fields/table';
import { ruleById } from './rules/allRules';

/** Where in the run form a rule's subject is entered: the section, and the field to look at first. */
export interface RulePlace {
  section: RunSection;
  field: RunFieldName;
}

/** The part of the form's address that leads to the first of these rules' fields; empty where none has one. */
export function hashOfRules(ruleIds: readonly string[]): string {
  const place = ruleIds.map(placeOfRule).find((found) => found !== undefined);
  return place === undefined ? '' : `#${place.field}`;
}

/** Nothing for rules about the run as a whole, and for those that this release does not have. */
export function placeOfRule(ruleId: string): RulePlace | undefined {
  const field = ruleById(ruleId)?.field;
  return field === undefined ? undefined : { section: fieldNamed(field).section, field };
}
