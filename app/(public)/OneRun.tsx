import type { FigureDescription } from '@/app/ui/figures/description';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { showEstimate } from '@/lib/units/show';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';

/** A fitted setup as any of the pages knows it. */
export interface OneRunSetup {
  key: string;
  label: string;
  /** What tells it apart beside its name: the model. */
  detail?: string;
  estimateWhPerKm: number;
  lowWhPerKm: number | null;
  highWhPerKm: number | null;
  intervalKind: string;
}

const TITLE = 'Where a single run could land';

/** Where no interval can come from a setup's own runs: where a single run could land, under its own heading. */
export function OneRun({ setups, display }: { setups: readonly OneRunSetup[]; display: Display }) {
  const rows = bandsOf(setups, display);
  if (rows.length === 0) return null;
  return (
    <Section
      id="one-run"
      title={TITLE}
      note="One run, or one car, cannot show how much other cars would differ. So these setups have no 95 % interval yet."
      wide
    >
      <Figure figure={oneRunFigure(rows, display)} />
    </Section>
  );
}

function bandsOf(setups: readonly OneRunSetup[], display: Display) {
  return setups.flatMap(({ key, label, detail, estimateWhPerKm, lowWhPerKm, highWhPerKm, intervalKind }) => {
    if (intervalKind !== 'expectedVariation' || lowWhPerKm === null || highWhPerKm === null) return [];
    const [low, high] = [lowWhPerKm, highWhPerKm]
      .map((whPerKm) => fromCanonical(whPerKm, display.consumption))
      .sort((a, b) => a - b) as [number, number];
    const ends = { value: estimateWhPerKm, low: lowWhPerKm, high: highWhPerKm };
    const text = showEstimate(ends, 'consumption', display).interval;
    return [{ key, label, ...(detail === undefined ? {} : { detail }), low, high, text }];
  });
}

/** Of its page alone, so without files of its own. */
function oneRunFigure(rows: ReturnType<typeof bandsOf>, display: Display): FigureDescription {
  const symbol = unitSymbol(display.consumption);
  const counts = `${rows.length} ${rows.length === 1 ? 'setup' : 'setups'} without an interval of ${rows.length === 1 ? 'its' : 'their'} own`;
  return {
    title:
      'If the estimate were exact, 95 of 100 runs, each in a different car, would be expected inside its band. The width comes from how runs, days and cars differ at this speed.',
    desc: `${counts}. ${rows.map(({ label, text }) => `${label}: ${text}`).join('. ')}`,
    reading: 'A dotted band is about single runs, not about the setup’s mean: two bands cannot be compared.',
    counts,
    source: { path: '', asOf: '' },
    isDemo: false,
    mark: display.mark,
    drawing: {
      kind: 'openBand',
      rows,
      axisLabel: `${senseOf(display.consumption).quantity} of one run, ${symbol}`,
      bandLabel: 'a single run',
    },
    table: {
      caption: TITLE,
      columns: [{ header: 'Setup' }, { header: 'A single run', unit: symbol }],
      rows: rows.map(({ label, detail, text }) => [
        detail === undefined ? label : `${label}, ${detail}`,
        text,
      ]),
    },
  };
}
