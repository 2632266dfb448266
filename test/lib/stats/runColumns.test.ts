import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countSetups } from '@/lib/stats/estimates';
import { fitGroup } from '@/lib/stats/fitGroup';
import type { FitRow } from '@/lib/stats/fitRow';
import { columnsOf, rowAt } from '@/lib/stats/runColumns';
import { screenRows } from '@/lib/stats/screenRows';
import { layOutColumns, layOutRuns, type Structure } from '@/lib/stats/structure';
import { SetupTallies } from '@/lib/stats/tallySetups';

const name = fc.constantFrom('a', 'b', 'c', '__proto__', 'constructor', '');
const sound = fc.record(
  {
    runId: fc.constantFrom('r1', 'r2', 'r3', 'r4'),
    setup: name,
    model: name,
    car: name,
    loop: name,
    session: name,
    z: fc.double({ min: 4, max: 6, noNaN: true }),
    u: fc.double({ min: 0, max: 0.1, noNaN: true }),
    shared: fc.array(
      fc.record({
        key: name,
        scope: fc.constantFrom('session' as const, 'car' as const, 'model' as const, 'method' as const),
        contribution: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  },
  { requiredKeys: ['setup', 'car', 'session', 'z', 'u'] },
);
const rows = fc.array(sound, { maxLength: 600 });

/** Its indices as what they say: they are made when first asked. */
const named = ({ carIndex, loopIndex, sessionIndex, ...rest }: Structure) => ({
  ...rest,
  places: [carIndex, loopIndex, sessionIndex].map((index) => [...index]),
});

describe('runs in columns', () => {
  it('give every run back as it came', () => {
    fc.assert(
      fc.property(rows, (given: FitRow[]) => {
        const columns = columnsOf(given);
        expect(columns.count).toBe(given.length);
        expect(given.map((_, i) => rowAt(columns, i))).toEqual(given);
      }),
    );
  });

  it('are laid out as single runs are', () => {
    fc.assert(
      fc.property(rows, (given: FitRow[]) => {
        expect(named(layOutColumns(columnsOf(given)))).toEqual(named(layOutRuns(given)));
      }),
    );
  });

  it('keep nothing of a run that is left out, its names neither', () => {
    const { used, excluded } = screenRows(
      columnsOf([
        { setup: 'kept', car: 'k', session: '1', z: 5, u: 0 },
        { setup: 'left', car: 'l', session: '1', z: Number.NaN, u: 0 },
      ]),
    );
    expect(layOutColumns(used).setups).toEqual(['kept']);
    expect(excluded).toMatchObject([{ row: { setup: 'left', car: 'l' } }]);
    expect(fitGroup(used).setups).toEqual(['kept']);
  });

  it('are counted by setup', () => {
    fc.assert(
      fc.property(rows, (given: FitRow[]) => {
        for (const [setup, counts] of countSetups(columnsOf(given))) {
          const own = given.filter((row) => row.setup === setup);
          const distinct = (of: (row: FitRow) => unknown) =>
            new Set(own.map((row) => JSON.stringify(of(row)))).size;
          expect(counts.n).toBe(own.length);
          expect(counts.cars).toBe(distinct(({ car }) => car));
          expect(counts.sessions).toBe(distinct(({ car, loop, session }) => [car, loop ?? null, session]));
          expect(counts.mean).toBeCloseTo(
            own.reduce((sum, { z }) => sum + z / own.length, 0),
            10,
          );
        }
      }),
    );
  });
});

describe('what stands behind a setup', () => {
  it('is counted as runs come', () => {
    const tallies = new SetupTallies();
    const run = {
      setupId: 's',
      testerId: 't',
      carId: 'c',
      loopId: 'l',
      day: '2026-05-01',
      measuredWhPerKm: 200,
    };
    for (const change of [{}, { day: '2026-05-02' }, { testerId: 'u', carId: 'd' }, { setupId: 'other' }])
      tallies.add({ ...run, ...change, measuredWhPerKm: 'day' in change ? 230 : 200 });
    expect(tallies.tallies().get('s')).toEqual({
      testers: 2,
      cars: 2,
      loops: 1,
      days: 2,
      rawMeanWhPerKm: 210,
    });
    expect(tallies.tallies().get('other')).toMatchObject({ testers: 1, days: 1 });
  });
});
