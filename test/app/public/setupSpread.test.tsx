import { describe, expect, it } from 'vitest';
import { SetupScreening } from '@/app/(public)/setups/[slug]/SetupScreening';
import { SetupSpread } from '@/app/(public)/setups/[slug]/SetupSpread';
import { spreadFigure } from '@/app/(public)/setups/[slug]/spreadFigure';
import type { SetupSession } from '@/lib/registry/setups/setupSessions';
import { carOnLoop, type ModelRun, observationOf } from '@/lib/stats/modelRuns';
import { residualsBySetup } from '@/lib/stats/runScreening';
import { screenSetup } from '@/lib/stats/screening';
import { setupShrinkage } from '@/lib/stats/setupShrinkage';
import { shownScreening } from '@/lib/stats/shownScreening';
import { shrunkEffects } from '@/lib/stats/shrinkage';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { modelRun } from '../../lib/stats/modelRun';
import { all, render, textOf } from '../ui/markup';

const perKm: Display = { ...DEFAULT_PREFERENCES, consumption: 'Wh/km' };

const levels = { stragglerLevel: 0.05, outlierLevel: 0.01 };
const components = { car: 0.0009, carLoop: 0, session: 0, residual: 0.0001 };
const cars: Record<string, readonly number[]> = {
  'Mira Holm': [160, 162, 161],
  'Ivo Brand': [170, 171, 169],
  'Sana Reed': [165, 164, 167],
};

function runsOf(given: Record<string, readonly number[]>): ModelRun[] {
  return Object.entries(given).flatMap(([carId, values], c) =>
    values.map((value, i) =>
      modelRun({ number: 10 * c + i, carId, sessionId: `${carId} day`, z: Math.log(value) }),
    ),
  );
}

const sessions: SetupSession[] = Object.keys(cars).map((carId) => ({
  sessionId: `${carId} day`,
  carId,
  car: carId,
  carKey: carOnLoop(carId, 'loop'),
  loopName: 'North causeway',
  date: '2026-05-12',
  runs: [],
}));

const view = { slug: 'as-delivered', title: 'As delivered', model: 'Wake', world: 'demo' as const };
const chosen = {
  classKey: 'kmh-110',
  classLabel: '110 km/h',
  estimateWhPerKm: 165.4,
  lowWhPerKm: 161,
  highWhPerKm: 170,
  intervalKind: 'model',
  fittedAt: new Date('2026-11-20'),
};

describe('the setup page’s cars and days', () => {
  const runs = runsOf(cars);
  const found = setupShrinkage(runs, shrunkEffects(runs.map(observationOf), components), Math.log(165.4), 8);
  const page = render(
    <SetupSpread
      view={{ ...view, sessions }}
      chosen={chosen}
      cars={found}
      of={{ cars: 3, sessions: 3 }}
      display={perKm}
    />,
  );
  const rows = all(page, 'tbody').flatMap((body) => all(body, 'tr'));
  const cells = rows.map((row) => [...all(row, 'th'), ...all(row, 'td')].map(textOf));

  it('draws the interval that it prints beside each percentage, about what is believed', () => {
    const { drawing } = spreadFigure(
      { view: { ...view, sessions }, chosen, cars: found, of: { cars: 3, sessions: 3 } },
      perKm,
    );
    if (drawing.kind !== 'spread') throw new Error('nothing drawn');
    const drawn = drawing.rows.map(({ ends, believed, note }) => ({ ends, believed, note }));
    for (const { ends, believed, note } of drawn.filter(
      ({ note: words }) => words !== 'no difference seen',
    )) {
      const [low = 0, high = 0] = ends ?? [];
      expect(low).toBeLessThan(believed);
      expect(high).toBeGreaterThan(believed);
      const printed = (note.match(/[+−]?[\d.]+(?=\s%)/g) ?? []).map((text) => Number(text.replace('−', '-')));
      const car = found.find(({ believedWhPerKm }) => believedWhPerKm === believed);
      if (car === undefined) continue;
      expect((low / 165.4 - 1) * 100).toBeCloseTo(printed[0] ?? Number.NaN, 0);
      expect((high / 165.4 - 1) * 100).toBeCloseTo(printed[1] ?? Number.NaN, 0);
    }
    expect(drawn.filter(({ ends }) => ends !== undefined).length).toBeGreaterThanOrEqual(3);
    expect(drawn.every(({ ends, note }) => (ends === undefined) === (note === 'no difference seen'))).toBe(
      true,
    );
  });

  it('lists each car by its tester, its days after it, the mean beside what is believed', () => {
    expect(cells.map(([car, day]) => `${car} ${day}`)).toEqual([
      'Ivo Brand, North causeway all days',
      'Ivo Brand, North causeway 12 May 2026',
      'Mira Holm, North causeway all days',
      'Mira Holm, North causeway 12 May 2026',
      'Sana Reed, North causeway all days',
      'Sana Reed, North causeway 12 May 2026',
    ]);
    // Mean 170.0 (geometric) against 165.4: ln 0.02744, +2.8 %; of it 3·9/(3·9 + 1) = 96 % kept: ln 0.02646, +2.7 %.
    expect(cells[0]?.slice(2, 6)).toEqual(['3', '170', '+2.8 %', '+2.7 %']);
    expect(cells[0]?.[7]).toBe('96 %');
    expect(cells[1]?.[6]).toBe('no difference seen');
  });
});

describe('the setup page’s screening', () => {
  const shown = (given: Record<string, readonly number[]>) =>
    textOf(
      render(
        <SetupScreening
          display={perKm}
          screening={shownScreening(
            screenSetup(runsOf(given), residualsBySetup(runsOf(given), components).get('base') ?? [], levels),
            50,
            new Set(),
          )}
          cars={sessions}
          view={view}
          chosen={chosen}
        />,
      ),
    );

  it('shows the tests and h and k where counts are equal', () => {
    const text = shown(cars);
    expect(text).toContain('straggler at 5 %, outlier at 1 %');
    expect(text).toContain('No car stands out, neither by its mean nor by how its runs scatter.');
    expect(text).toContain('Mandel’s h), 3 cars');
    expect(text).toContain('Mandel’s k), 3 cars');
    // ISO 5725-2:1994, table 4 (from memory): Cochran for p = 3, n = 3; Grubbs for p = 3 is bound by (p − 1)/√p = 1.1547.
    expect(text).toContain('0.8710.942consistent');
    expect(text).toContain('1.1541.155consistent');
    expect(text).toContain('Nothing is taken out by itself');
  });

  it('names the car that a test flags', () => {
    // Variances of 20.3 and about 1e-4 twice: Cochran's C is 0.99999, above 0.942 (p = 3, n = 3, 1 %).
    const text = shown({ ...cars, 'Mira Holm': [160, 160.01, 160.02], 'Ivo Brand': [170, 170.01, 169.99] });
    expect(text).toContain(
      'The runs of Sana Reed, North causeway, scatter more than those of the other cars: far more than luck would bring about, so a person looks at it.',
    );
    expect(text).toContain('Cochran: the most scattered car');
  });

  it('says why the standard does not apply and holds each run against the others', () => {
    const text = shown({ 'Mira Holm': [160, 161, 160.5, 160.2, 190], 'Ivo Brand': [160.1, 160.4, 160.7] });
    expect(text).toContain('they need three cars on a loop or more');
    expect(text).toContain('1 of the 8 stands out');
    expect(text).toContain('stands far out, a person looks at it');
    expect(shown({ 'Mira Holm': [160] })).toContain('cannot be said yet: there are too few runs');
  });
});
