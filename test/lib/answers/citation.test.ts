import { describe, expect, it } from 'vitest';
import { comparisonCitation, studyCitation } from '@/lib/answers/citation';

/** Days are kept together by spaces that do not break. */
const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('how a result is cited', () => {
  it('names a study with its driver, its plan, its counts, its date and its address', () => {
    const study = {
      by: 'Mira Holm',
      question: 'Does the low ride height use less?',
      state: 'Complete',
      model: 'Averil Nine 2026',
      classLabel: '110 km/h',
      loopName: 'North causeway',
      counted: { runs: 16, days: 4 },
      planVersion: 1,
      methodVersion: '3.2',
      asOf: '2026-11-27',
      address: 'https://registry.example/studies/low',
      isDemo: false,
      snapshot: undefined,
    };
    expect(plain(studyCitation(study))).toBe(
      'Mira Holm: “Does the low ride height use less?” Study (complete) of the Averil Nine 2026, 110 km/h, North causeway; 16 runs on 4 days, plan version 1, method 3.2, as of 27 Nov 2026. Evenloop, https://registry.example/studies/low.',
    );
    const one = { ...study, question: 'Low against high', counted: { runs: 1, days: 1 }, isDemo: true };
    expect(studyCitation(one)).toMatch(/“Low against high\.”.* 1 run on 1 day.*Demo world, invented data\.$/);
  });

  it('names a comparison with its fit', () => {
    expect(
      plain(
        comparisonCitation({
          setups: ['Ride height: low', 'Tyres: winter'],
          baseline: 'As delivered',
          models: ['Averil Nine 2026'],
          classLabel: '110 km/h',
          fitRuns: 212,
          methodVersion: '3.2',
          asOf: '2026-11-27',
          address: 'https://registry.example/compare?class=kmh-110',
          isDemo: false,
          snapshot: { name: 'record-7d3f', asOf: new Date('2026-11-26T16:16:00Z') },
        }),
      ),
    ).toBe(
      'Ride height: low; Tyres: winter against As delivered: Averil Nine 2026, 110 km/h; from the fit of 212 runs, method 3.2, as of 27 Nov 2026. Evenloop, https://registry.example/compare?class=kmh-110. Latest snapshot of the data: record-7d3f, as of 26 Nov 2026.',
    );
  });
});
