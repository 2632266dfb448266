import { describe, expect, it } from 'vitest';
import { Adjustment } from '@/app/runDossier/Adjustment';
import { Budget } from '@/app/runDossier/Budget';
import { DisplayScaleWords } from '@/app/runDossier/DisplayScaleWords';
import { Findings } from '@/app/runDossier/Findings';
import { Standing } from '@/app/runDossier/Standing';
import { type NormalisedRun, normaliseRun } from '@/lib/physics/normalise';
import type { RunStanding } from '@/lib/registry/review/runStanding';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { said } from '@/lib/units/said';
import { exampleCase } from '@/test/lib/physics/exampleCase';
import { all, render, textOf } from '../ui/markup';

const perKm: Display = { ...DEFAULT_PREFERENCES, consumption: 'Wh/km' };

function example(): NormalisedRun {
  const result = normaliseRun(exampleCase());
  if (result.outcome !== 'normalised') throw new Error('the example is within reach');
  return result;
}

const shownRun = {
  number: 9,
  isPublic: true,
  revisionNumber: 1,
  world: 'demo' as const,
  subject: {
    classLabel: '110 km/h',
    localDate: '2026-05-12',
    model: { slug: 'wake', name: 'Wake' },
    setup: { slug: 'low', title: 'Low' },
  },
};

const numberIn = (text: string) => Number(text.replace('−', '-').replace('+', ''));

describe('the adjustment', () => {
  const run = example();
  const page = render(<Adjustment display={perKm} run={run} view={shownRun} />);
  const rows = all(page, 'tbody').flatMap((body) => all(body, 'tr'));
  const cells = rows.map((row) => [...all(row, 'th'), ...all(row, 'td')].map(textOf));

  it('lists the steps in the documented order between both totals', () => {
    expect(cells.map(([label]) => label)).toEqual([
      'Measured',
      expect.stringContaining('Auxiliary power'),
      expect.stringContaining('Net climb'),
      expect.stringContaining('Stops'),
      expect.stringContaining('Wind'),
      expect.stringContaining('Air density'),
      expect.stringContaining('Rolling resistance'),
      expect.stringContaining('110 km/h'),
      'At reference conditions',
    ]);
  });

  it('prints steps that sum to the difference, to the last digit shown', () => {
    const steps = cells.slice(1, -1).map((row) => numberIn(row[1] ?? ''));
    const sum = steps.reduce((a, b) => a + b, 0);
    // Seven numbers rounded to 0.1 or finer: at most half of that each.
    expect(Math.abs(sum - (run.normalisedWhPerKm - run.measuredWhPerKm))).toBeLessThanOrEqual(0.35);
    // The whole stands at the place of its own uncertainty, the steps one finer.
    const [last = Number.NaN, whole = Number.NaN] = cells.slice(-2).map((row) => numberIn(row[4] ?? ''));
    expect(Number.isInteger(whole)).toBe(true);
    expect(Math.abs(last - whole)).toBeLessThanOrEqual(0.55);
  });
});

describe('the budget', () => {
  it('has a row for every input, and its contributions make up the combined uncertainty', () => {
    const run = example();
    const page = render(<Budget display={perKm} run={run} view={{ ...shownRun, displayScale: null }} />);
    const rows = all(page, 'tbody').flatMap((body) => all(body, 'tr'));
    expect(rows).toHaveLength(run.budget.length);
    const squares = rows.map((row) => numberIn(textOf(all(row, 'td').at(-2) ?? row)) ** 2);
    expect(Math.sqrt(squares.reduce((a, b) => a + b, 0))).toBeCloseTo(run.uWhPerKm, 1);
  });
});

describe('the energy display of a car', () => {
  const words = (scale: number, u: number, isFinding = false) =>
    textOf(
      render(<DisplayScaleWords display={perKm} scale={{ scale, u, ratios: 4, isFinding }} />),
    ).replaceAll('\u202f', ' ');

  it('says by how much and in which direction it is off, to the place of its interval', () => {
    // others over shown is e^0.03, so the display is at e^−0.03 − 1 = −2.96 %; ± 1.96 · 0.5 % · e^−0.03
    expect(words(0.03, 0.005)).toContain('reads 3.0 % ± 1.0 % less than');
    expect(words(-0.012, 0.0093)).toContain('reads 1.2 % ± 1.8 % more than');
    expect(words(-0.012, 0.0093)).toContain('may as well be right');
    expect(words(0.03, 0.005)).not.toContain('may as well be right');
  });

  it('claims no difference that its digits cannot show, and says when the readings are too far apart', () => {
    expect(words(0.0002, 0.0093)).toContain('reads the same, within ± 1.8 %, as');
    expect(words(0.03, 0.005, true)).toContain('farther apart than they should');
    expect(textOf(render(<DisplayScaleWords display={perKm} scale={null} />))).toContain(
      'Nothing can be said',
    );
  });
});

describe('findings', () => {
  it('shows what failed with its limit and folds the rest away', () => {
    const finding = {
      ruleId: 'wind',
      title: 'Calm wind',
      group: 'Conditions',
      outcome: 'fail' as const,
      sentence: 'Mean wind was 9.5 m/s.',
      why: '',
      guidance: '',
      numbers: [{ name: 'Mean wind', value: 9.5, unit: 'm/s' as const, limit: 5 }],
      isKnown: true,
    };
    // beside its sentence a number has the digits of the sentence
    const exact = {
      ...finding,
      ruleId: 'charge',
      sentence: 'It was 8.9 m/s.',
      said: said`It was ${{ value: 8.8888, unit: 'm/s' as const, decimals: 1 }}.`,
      numbers: [{ name: 'Gust', value: 8.8888, unit: 'm/s' as const }],
    };
    const passed = { ...finding, ruleId: 'dry-road', title: 'Dry road', outcome: 'pass' as const };
    const page = render(
      <Findings
        display={perKm}
        findings={{
          protocolLabel: '1.0',
          counts: { fail: 2, caution: 0, notChecked: 0, pass: 1 },
          notable: [finding, exact],
          notChecked: [],
          passed: [passed],
        }}
      />,
    );
    expect(textOf(page)).toContain('Mean wind: 9.5 m/s (limit 5 m/s)');
    expect(textOf(page)).not.toContain('8.888');
    const folded = all(page, 'details');
    expect(folded).toHaveLength(1);
    expect(textOf(folded[0] ?? page)).toContain('Dry road');
    expect(textOf(folded[0] ?? page)).not.toContain('Calm wind');
  });
});

describe('where a run falls', () => {
  const standing: RunStanding = {
    own: { number: 9, normalisedWhPerKm: 190, uWhPerKm: 4 },
    ofSetup: {
      count: 3,
      shown: [160, 162, 164].map((value, index) => ({
        number: index,
        normalisedWhPerKm: value,
      })),
    },
    ofModel: { count: 0, shown: [] },
    cars: 1,
    sessions: 2,
    meanWhPerKm: 162,
    fromMean: 190 / 162 - 1,
    prediction: {
      meanWhPerKm: 162,
      lowWhPerKm: 155,
      highWhPerKm: 169,
      isInside: false,
      knowsCar: true,
      knowsSession: false,
    },
    screening: {
      number: 9,
      studentised: 7.4,
      p: 0.0002,
      pHolm: 0.0008,
      verdict: 'outlier',
      stragglerLevel: 0.05,
      outlierLevel: 0.01,
      among: 4,
    },
  };

  it('says so when the others did not let expect it', () => {
    const text = textOf(render(<Standing standing={standing} display={perKm} view={shownRun} />));
    expect(text).toContain('outside what the others would lead one to expect');
    expect(text).toContain('155 to 169');
    expect(text).toContain('17.3 % above');
  });

  it('orders the ends of the expectation in a unit that runs the other way', () => {
    const text = textOf(
      render(<Standing standing={standing} display={{ ...perKm, consumption: 'km/kWh' }} view={shownRun} />),
    );
    // 1000/169 and 1000/155
    expect(text).toContain('5.92 to 6.45');
  });

  it('tells a reviewer, and only a reviewer, whether it would be flagged', () => {
    const review = textOf(render(<Standing standing={standing} display={perKm} view={shownRun} withModel />));
    expect(review).toContain('would be flagged as an outlier');
    expect(review).toContain('among the 4 screened runs');
    expect(review).toContain('+7.400; p < 0.001');
    expect(textOf(render(<Standing standing={standing} display={perKm} view={shownRun} />))).not.toContain(
      'Screening',
    );
    const unknown = render(
      <Standing standing={{ ...standing, screening: null }} display={perKm} view={shownRun} withModel />,
    );
    expect(textOf(unknown)).toContain('not possible yet');
  });

  it('compares with nothing where there is nothing', () => {
    const none = { count: 0, shown: [] };
    const alone = { ...standing, ofSetup: none, meanWhPerKm: null, fromMean: null, prediction: null };
    expect(textOf(render(<Standing standing={alone} display={perKm} view={shownRun} />))).toContain(
      'nothing to compare it with',
    );
  });
});
