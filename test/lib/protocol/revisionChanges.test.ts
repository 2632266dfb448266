import { describe, expect, it } from 'vitest';
import { revisionChanges } from '@/lib/protocol/revisionChanges';
import type { Outcome } from '@/lib/protocol/rule';
import { completeForm } from '@/test/helpers/runForms';

const revision = (number: number, changes: { photos?: string[]; wind?: Outcome; whPerKm?: number } = {}) => ({
  number,
  form: completeForm(number === 1 ? {} : { road: 'damp' }),
  evidence: (changes.photos ?? []).map((id) => ({ evidence: { id } })),
  findings: [
    { ruleId: 'road-load-scale', outcome: 'pass' as const },
    ...(changes.wind === undefined ? [] : [{ ruleId: 'wind', outcome: changes.wind }]),
  ],
  normalisations: changes.whPerKm === undefined ? [] : [{ normalisedWhPerKm: changes.whPerKm }],
});

describe('what a resubmission changed', () => {
  it('tells entries, photos and the number of both', () => {
    const before = revision(1, { photos: ['a', 'b', 'c'], whPerKm: 251 });
    const after = revision(2, { photos: ['b', 'd'], whPerKm: 249 });
    expect(revisionChanges(before, after)).toMatchObject({
      fromNumber: 1,
      entries: [{ key: 'road', before: 'Dry', after: 'Damp' }],
      photosAdded: 1,
      photosTakenAway: 2,
      normalisedBeforeWhPerKm: 251,
      normalisedAfterWhPerKm: 249,
    });
  });

  it('tells of findings that are other, new or gone, and of no others', () => {
    const of = (was: Outcome | undefined, is: Outcome | undefined) =>
      revisionChanges(revision(1, was && { wind: was }), revision(2, is && { wind: is })).findings;
    expect(of('fail', 'fail')).toEqual([]);
    expect(of('fail', 'pass')).toMatchObject([{ ruleId: 'wind', before: 'fail', after: 'pass' }]);
    expect(of(undefined, 'caution')).toMatchObject([{ before: null, after: 'caution' }]);
    expect(of('caution', undefined)).toMatchObject([{ before: 'caution', after: null }]);
  });

  it('has no number where there was none', () => {
    expect(revisionChanges(revision(1), revision(2))).toMatchObject({
      normalisedBeforeWhPerKm: null,
      normalisedAfterWhPerKm: null,
    });
  });
});
