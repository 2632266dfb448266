import { ruleById } from '@/lib/protocol/rules/allRules';
import { CHOICE_FIELDS, QUANTITY_FIELDS, type RunSection } from '@/lib/run/fields';

/** Where in the run form a rule's subject is entered: the section, and the field to look at first. */
export interface RulePlace {
  section: RunSection;
  field: string;
}

/** The rule names its field; in which section that stands is the field tables' affair. */
const SECTIONS: ReadonlyMap<string, RunSection> = new Map<string, RunSection>([
  ['carId', 'setup'],
  ['setupId', 'setup'],
  ['loopId', 'loop'],
  ['cruiseClassKey', 'loop'],
  ['startedAtLocal', 'start'],
  ['isRetrospective', 'start'],
  ...QUANTITY_FIELDS.map(({ quantity, section }) => [quantity, section] as const),
  ...CHOICE_FIELDS.map(({ name, section }) => [name, section] as const),
]);

/** Nothing for rules about the run as a whole, and for those that this release does not have. */
export function placeOfRule(ruleId: string): RulePlace | undefined {
  const field = ruleById(ruleId)?.field;
  if (field === undefined) return undefined;
  const section = field.startsWith('evidence.') ? 'evidence' : SECTIONS.get(field);
  return section && { section, field };
}
