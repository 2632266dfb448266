import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { forestRows } from '@/app/(public)/compare/forestRows';
import {
  differenceReading,
  drawnIntervals,
  intervalCells,
  intervalColumns,
  markLabels,
  OF_RANKING,
} from '@/app/(public)/differenceIntervals';
import { differenceRow } from '@/app/(public)/rankings/rankingRows';
import { figureCsv } from '@/app/ui/figures/figureCsv';
import { differencePlace, endsText } from '@/lib/answers/differenceText';
import { EVIDENCE } from '@/lib/stats/groupFit';
import { earnedFamily, earnedInterval, type StatedDifference } from '@/lib/stats/statedDifference';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { percentEndsIn } from '@/lib/units/sense';
import { setup as ranked, rowContext } from './rankedSample';

const displays: Display[] = [
  DEFAULT_PREFERENCES,
  { ...DEFAULT_PREFERENCES, consumption: 'mi/kWh', mark: 'comma' },
];

/** Any difference as a fit, or one read from elsewhere, may state it: nested intervals, and any word beside them. */
const anyDifference: fc.Arbitrary<StatedDifference> = fc
  .record({
    percent: fc.double({ min: -30, max: 30, noNaN: true }),
    half: fc.double({ min: 0.01, max: 10, noNaN: true }),
    wider: fc.double({ min: 1, max: 2, noNaN: true }),
    widest: fc.double({ min: 1, max: 2, noNaN: true }),
    word: fc.constantFrom(...EVIDENCE),
    acrossModels: fc.boolean(),
    restsOnOne: fc.boolean(),
    isDrivenByOne: fc.boolean(),
  })
  .map(({ percent, half, wider, widest, acrossModels, ...rest }) => {
    const around = (by: number): [number, number] => [percent - by, percent + by];
    return {
      ...(ranked.against as StatedDifference),
      ...rest,
      percent,
      pointwise: around(half),
      ofModel: acrossModels ? null : around(half * wider),
      simultaneous: around(half * wider * widest),
    };
  });

describe('the interval printed beside a difference', () => {
  it('is one of those that are drawn, in every figure', () => {
    fc.assert(
      fc.property(anyDifference, fc.constantFrom(...displays), (difference, display) => {
        const printed = earnedInterval(difference) as [number, number];
        const inUnit = percentEndsIn(display.consumption, printed);
        const said = endsText(printed, display, differencePlace(difference, display));
        const [forest] = forestRows([{ ...difference, setup: ranked }], () => 'Low', display);
        expect(forest?.text).toContain(`(${said})`);
        expect([forest?.pointwise, forest?.strokes, forest?.simultaneous]).toContainEqual(inUnit);
        const row = differenceRow({ ...ranked, against: difference }, { ...rowContext, display });
        expect(row.intervalText).toBe(said);
        const drawn = [[row.low, row.high], row.strokes, [row.outerLow, row.outerHigh]];
        expect(drawn).toContainEqual(inUnit);
      }),
    );
  });

  it('is named in the table, which has all three', () => {
    fc.assert(
      fc.property(anyDifference, (difference) => {
        const place = differencePlace(difference, DEFAULT_PREFERENCES);
        const cells = intervalCells(difference, OF_RANKING, DEFAULT_PREFERENCES, place);
        const named = intervalColumns(OF_RANKING).findIndex(({ header }) =>
          header.toLowerCase().startsWith(String(cells.at(-1))),
        );
        const printed = earnedInterval(difference) as [number, number];
        expect(cells[named]).toBe(endsText(printed, DEFAULT_PREFERENCES, place));
        expect(cells.slice(0, 3).filter((cell) => cell !== '–')).toHaveLength(
          difference.ofModel === null ? 2 : 3,
        );
      }),
    );
  });

  it('is marked by strokes where it is that of the model, and nowhere else', () => {
    fc.assert(
      fc.property(anyDifference, (difference) => {
        const { strokes } = drawnIntervals(difference, 'Wh/km');
        expect(strokes !== undefined).toBe(earnedFamily(difference) === 'ofModel');
      }),
    );
  });

  it('goes into the file with both of its ends', () => {
    const rows = [
      ['Low', ...intervalCells(ranked.against, OF_RANKING, DEFAULT_PREFERENCES, 1)],
      ['As delivered', ...intervalCells(null, OF_RANKING, DEFAULT_PREFERENCES, 1)],
    ];
    const csv = figureCsv({
      caption: '',
      columns: [{ header: 'Setup' }, ...intervalColumns(OF_RANKING)],
      rows,
    });
    expect(csv).toContain(
      '"All of its model at once, 95 %, from, %","All of its model at once, 95 %, to, %"',
    );
    expect(csv).toContain('Low,-4.4,-1.8,-4.9,-1.3,-5.4,-0.8,all of the ranking at once');
  });

  it('is explained in one sentence with the names of the legend', () => {
    const [first = ''] = differenceReading(OF_RANKING, DEFAULT_PREFERENCES).split('. ');
    for (const label of Object.values(markLabels(OF_RANKING))) {
      const [name = ''] = label.replace('strokes on the thin bar: ', '').split(', 95');
      expect(first).toContain(name);
    }
    expect(markLabels({ ...OF_RANKING, ofModel: null })).not.toHaveProperty('strokesLabel');
    expect(intervalColumns({ ...OF_RANKING, ofModel: null })).toHaveLength(3);
  });
});
