import { expect, it } from 'vitest';
import { RULES } from '@/lib/protocol/rules/allRules';
import { PLACED_RULES, placeOfRule } from '@/lib/registry/protocol/rulePlaces';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { PHOTO_FIELDS } from '@/lib/run/fields/table';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';

/** Rules about the run as a whole have no field of their own. */
const OF_THE_WHOLE_RUN = ['not-duplicate', 'within-reach', 'adjustment-total', 'road-load-scale'];

it('places every rule of the protocol that a field of the form answers', () => {
  const unplaced = RULES.map((rule) => rule.id).filter((id) => placeOfRule(id) === undefined);
  expect(unplaced.sort()).toEqual([...OF_THE_WHOLE_RUN].sort());
});

it('places no rule that does not exist, and none at a field that does not', () => {
  const fields = [...RUN_FORM_NAMES, ...PHOTO_FIELDS.map(({ name }) => name)];
  for (const id of PLACED_RULES) {
    expect(RULES.map((rule) => rule.id)).toContain(id);
    expect(fields).toContain(placeOfRule(id)?.field);
    expect(RUN_SECTIONS.map((section) => section.key)).toContain(placeOfRule(id)?.section);
  }
});
