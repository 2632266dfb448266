import { expect, it } from 'vitest';
import { placeOfRule } from '@/lib/protocol/rulePlace';
import { RULES } from '@/lib/protocol/rules/allRules';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { RUN_FORM_ORDER } from '@/lib/run/runForm';

/** Rules about the run as a whole have no field of their own. */
const OF_THE_WHOLE_RUN = [
  'not-duplicate',
  'independent-trace',
  'within-reach',
  'adjustment-total',
  'road-load-scale',
  'spread-of-runs',
  'spread-of-setup',
  'spread-of-cluster',
];

it('places every rule of the protocol that a field of the form answers', () => {
  const unplaced = RULES.map((rule) => rule.id).filter((id) => placeOfRule(id) === undefined);
  expect(unplaced.sort()).toEqual([...OF_THE_WHOLE_RUN].sort());
});

it('places none at a field or in a section that the form does not have', () => {
  for (const { id, field } of RULES) {
    if (field === undefined) continue;
    expect(RUN_FORM_ORDER, id).toContain(field);
    expect(placeOfRule(id)?.field).toBe(field);
    expect(RUN_SECTIONS.map((section) => section.key)).toContain(placeOfRule(id)?.section);
  }
});

it('follows the field table', () => {
  expect(placeOfRule('gusts')).toEqual({ section: 'conditions', field: 'windGust' });
  expect(placeOfRule('leg-wind')).toEqual({ section: 'turnaround', field: 'outboundEnergy' });
  expect(placeOfRule('finish-display-photo')?.section).toBe('evidence');
  expect(placeOfRule('a-rule-of-another-release')).toBeUndefined();
});
