import { describe, expect, it } from 'vitest';
import { shownFindings } from '@/lib/protocol/runFindings';

describe('findings', () => {
  const finding = (ruleId: string, outcome: 'pass' | 'caution' | 'fail' | 'notChecked', label = '1.0') => ({
    ruleId,
    outcome,
    numbers: [],
    sentence: `${ruleId} found`,
    protocolVersion: { label },
  });

  it('come with fails before cautions, and none is lost', () => {
    const rows = [
      finding('wind', 'caution'),
      finding('loop-closure-distance', 'pass'),
      finding('road-load-scale', 'fail'),
      finding('legs-share-route', 'notChecked'),
      finding('a-rule-of-old', 'caution'),
    ];
    const shown = shownFindings(rows, '1.0');
    expect(shown.notable.map((one) => one.ruleId)).toEqual(['road-load-scale', 'wind', 'a-rule-of-old']);
    expect(shown.notable.length + shown.passed.length + shown.notChecked.length).toBe(rows.length);
    expect(shown.counts).toEqual({ pass: 1, caution: 2, fail: 1, notChecked: 1 });
    expect(shown.notable.at(-1)).toMatchObject({ title: 'A rule of old', isKnown: false });
    expect(shown.notable.at(-1)?.sentence).toBe('a-rule-of-old found');
    expect(shown.notable[0]?.isKnown).toBe(true);
  });

  it('are those of the version that the revision is pinned to', () => {
    const shown = shownFindings([finding('wind', 'fail', '2.0'), finding('wind', 'pass')], '1.0');
    expect(shown.notable).toEqual([]);
    expect(shown.passed).toHaveLength(1);
  });
});
