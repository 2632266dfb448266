import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { Guesses } from '@/app/(public)/studies/[slug]/Guesses';
import { guessesFigure } from '@/app/(public)/studies/[slug]/guessesFigure';
import type { StudyView } from '@/lib/registry/studies/study';
import type { ContrastStanding } from '@/lib/study/standing';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { all, render, textOf } from '../ui/markup';

const contrast = {
  setupId: 'low',
  shown: { difference: Math.log(0.98), interval: [Math.log(0.97), Math.log(0.99)], level: 'runs' },
  sessions: 3,
  lower: 3,
  moreDays: null,
} as unknown as ContrastStanding;
const study = (changes: Partial<StudyView> = {}) =>
  ({
    slug: 'low',
    id: 'id',
    world: 'demo',
    state: 'complete',
    asOf: new Date('2026-11-01T00:00:00Z'),
    plan: { baselineId: 'base', contrasts: [{ setupId: 'low', factor: 'rideHeight' }] },
    setups: [
      { id: 'base', slug: 'base', title: 'As delivered' },
      { id: 'low', slug: 'low', title: 'Ride height: low' },
    ],
    standing: { contrasts: [contrast] },
    guesses: { count: 4, own: null, mayGuess: false, shown: [-5, -2, 0, 1.5] },
    mine: { drives: false },
    ...changes,
  }) as unknown as StudyView;
const names = { setup: 'Ride height: low', baseline: 'As delivered' };
const perKwh: Display = { ...DEFAULT_PREFERENCES, consumption: 'km/kWh' };

describe('what readers had expected of a study', () => {
  it('is a dot for each guess beside what came out, with a row of the table for each', () => {
    const figure = guessesFigure(study(), contrast, names, [-5, -2, 0, 1.5], DEFAULT_PREFERENCES);
    expect(figure.title).toMatch(/^Of 4 guesses 2 expected it to use less, 1 .* more and 1 .* 1 lies within/);
    const { drawing, table } = figure;
    if (drawing.kind !== 'histogram') throw new Error('nothing is drawn');
    expect(drawing.own.value).toBeCloseTo(-2, 9);
    const rowOf = (row: number | undefined) => table.rows[row ?? -1]?.[1];
    expect(rowOf(drawing.own.row)).toBe('−2.0');
    expect(drawing.others.map(({ row }) => rowOf(row))).toEqual(['−5.0', '−2.0', '0.0', '+1.5']);
    const turned = guessesFigure(study(), contrast, names, [-5], perKwh).drawing;
    expect(turned.kind === 'histogram' && turned.others[0]?.value).toBeGreaterThan(5);
  });

  it('is shown with the result, and not before the study is complete', () => {
    const shown = render(<Guesses view={study()} display={DEFAULT_PREFERENCES} />);
    expect(textOf(shown)).toContain('What readers had expected');
    expect(all(shown, 'svg').length).toBeGreaterThan(0);
    const guesses = { count: 4, own: -2.5, mayGuess: true, shown: null };
    // The form brings a script of the framework's, which is no XML.
    const running = renderToStaticMarkup(
      <Guesses view={study({ state: 'running', guesses })} display={DEFAULT_PREFERENCES} />,
    );
    expect(running).toContain('4 readers have');
    expect(running).not.toContain('<svg');
    expect(running).toMatch(/name="size"[^>]*value="2\.5"/);
    expect(running).toMatch(/type="radio"[^>]*checked=""[^>]*value="less"/);
  });
});
