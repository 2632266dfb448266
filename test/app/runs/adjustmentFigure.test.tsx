import { describe, expect, it } from 'vitest';
import { adjustmentFigure } from '@/app/runDossier/adjustmentFigure';
import { Headline } from '@/app/runDossier/Headline';
import { cellText } from '@/app/ui/figures/description';
import { normaliseRun } from '@/lib/physics/normalise';
import type { RunView } from '@/lib/registry/runs/run';
import { DEFAULT_PREFERENCES, type Display } from '@/lib/units/display';
import { fromCanonical } from '@/lib/units/unit';
import { exampleCase } from '../../lib/physics/exampleCase';
import { render, textOf } from '../ui/markup';

const run = normaliseRun(exampleCase());
if (run.outcome !== 'normalised') throw new Error('the example has a number');

const of = {
  number: 7,
  isPublic: true,
  revisionNumber: 1,
  world: 'demo',
  subject: {
    classLabel: '110 km/h',
    localDate: '2026-05-12',
    model: { name: 'Tarn Works Skerry 2025' },
    setup: { title: 'As delivered' },
  },
} as Parameters<typeof adjustmentFigure>[0];

const displays: Display[] = [
  DEFAULT_PREFERENCES,
  { ...DEFAULT_PREFERENCES, consumption: 'Wh/km', mark: 'comma' },
];

describe.each(displays)('the figure from measured to comparable, in $consumption', (display) => {
  const { drawing, table, title } = adjustmentFigure(of, run, display);
  const headline = textOf(
    render(<Headline view={{ result: { normalisation: run } } as RunView} display={display} />),
  );

  it('draws the 95 % interval of the headline about the result, and names it', () => {
    if (drawing.kind !== 'waterfall') throw new Error('nothing drawn');
    const { normalised } = drawing;
    expect(normalised.ends).toEqual(run.interval95.map((end) => fromCanonical(end, display.consumption)));
    expect(normalised.u).toBeUndefined();
    expect(headline).toContain(`${normalised.note} `);
    expect(title).toContain(`95 % interval ${normalised.note}`);
    expect(table.rows.at(-1)?.map(cellText)).toContain(normalised.note);
    expect(headline).toContain(String(table.rows.at(-1)?.at(-2)));
  });

  it('says no change that is finer than the result', () => {
    expect(title).not.toMatch(/together|[+−]\d/);
  });
});
