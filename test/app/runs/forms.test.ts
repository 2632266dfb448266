import { describe, expect, it } from 'vitest';
import { ageText } from '@/app/(review)/queue/QueueTable';
import { citeField, decisionOf, onFields, reasonField } from '@/app/(review)/review/[number]/decisionOf';
import { runNumber } from '@/app/runDossier/runNumber';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { showPlain } from '@/lib/units/show';

function posted(entries: Record<string, string>): FormData {
  const data = new FormData();
  for (const [name, value] of Object.entries({ runId: 'r', revisionNumber: '2', ...entries }))
    data.set(name, value);
  return data;
}

const cited = (ruleId: string, text: string) => ({ [citeField(ruleId)]: 'yes', [reasonField(ruleId)]: text });

describe('a decision as posted', () => {
  it('gives a reason for ticked rules only, whatever text stands beside the others', () => {
    const decision = decisionOf(
      posted({ kind: 'reject', ...cited('wind', 'Too windy.'), [reasonField('dry-road')]: 'suggested' }),
    );
    expect(decision).toMatchObject({ runId: 'r', revisionNumber: 2, kind: 'reject' });
    expect(decision.reasons).toEqual([{ ruleId: 'wind', text: 'Too windy.' }]);
  });

  it('takes the other rule with its own text', () => {
    const decision = decisionOf(
      posted({ kind: 'askChanges', otherRule: 'load-noted', otherReason: 'Two people are seen.' }),
    );
    expect(decision.reasons).toEqual([{ ruleId: 'load-noted', text: 'Two people are seen.' }]);
  });

  it('sends no prefilled reasons with an approval', () => {
    expect(decisionOf(posted({ kind: 'approve', ...cited('wind', 'suggested') })).reasons).toEqual([]);
  });

  it('without a choice has no kind, so that the use case says so', () => {
    expect(decisionOf(posted({})).kind).toBeUndefined();
  });

  it('leads an issue of a numbered reason to the field of its rule', () => {
    const data = posted({
      kind: 'reject',
      ...cited('wind', 'Too windy.'),
      ...cited('dry-road', ''),
      otherRule: 'load-noted',
      otherReason: '',
    });
    const issue = (path: string) => ({ path, what: '', why: '', fix: '' });
    const refusal = {
      title: '',
      issues: [issue('reasons.1.text'), issue('reasons.2.text'), issue('reasons'), issue('kind')],
      values: {},
    };
    expect(onFields(refusal, data).issues.map(({ path }) => path)).toEqual([
      reasonField('dry-road'),
      'otherReason',
      'reasons',
      'kind',
    ]);
  });
});

describe('numbers of the dossier', () => {
  it('writes limits without empty zeros', () => {
    expect(showPlain(1.5, DEFAULT_PREFERENCES)).toBe('1.5');
    expect(showPlain(4.1004, DEFAULT_PREFERENCES)).toBe('4.1');
    expect(showPlain(0, DEFAULT_PREFERENCES)).toBe('0');
    expect(showPlain(0.00002, DEFAULT_PREFERENCES)).toBe('0.00002');
    expect(showPlain(123_456, DEFAULT_PREFERENCES)).toBe('123\u202F500');
  });

  it('counts a wait in hours at first, then in whole days', () => {
    expect([0.2, 1.9, 47.9, 48, 75].map(ageText)).toEqual(['under 1 h', '1 h', '47 h', '2 days', '3 days']);
  });

  it('takes only plain numbers for an address of a run', () => {
    expect(['12', '999999999'].map(runNumber)).toEqual([12, 999_999_999]);
    expect(['0', '012', '1e3', '-1', '9999999999', ''].map(runNumber)).toEqual(Array(6).fill(undefined));
  });
});
