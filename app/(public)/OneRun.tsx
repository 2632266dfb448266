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

const TITLE = 'What one run of one car may vary by';

/** Where no interval can come from a setup's own runs: what one run of one car may vary by, under its own heading. */
export function OneRun({ setups, display }: { setups: readonly OneRunSetup[]; display: Display }) {
  const rows = bandsOf(setups, display);
  if (rows.length === 0) return null;
  return (
    <Section
      id="one-run"
      title={TITLE}
      note="A single run, or the runs of a single car, cannot show how far other cars would lie from it. These setups have no 95 % interval of their own."
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
      'Of 100 runs, each of another car, 95 would be expected between these ends if the setup’s estimate were exact; worked out from how runs, days and cars differ in the whole class.',
    desc: `${counts}. ${rows.map(({ label, text }) => `${label}: ${text}`).join('. ')}`,
    reading:
      'A dotted band is not an interval of the setup’s mean: it does not say where that lies, and two bands cannot be held against each other.',
    counts,
    source: { path: '', asOf: '' },
    isDemo: false,
    mark: display.mark,
    drawing: {
      kind: 'openBand',
      rows,
      axisLabel: `${senseOf(display.consumption).quantity} of one run, ${symbol}`,
      bandLabel: 'one run of one car',
    },
    table: {
      caption: TITLE,
      columns: [{ header: 'Setup' }, { header: 'One run of one car', unit: symbol }],
      rows: rows.map(({ label, detail, text }) => [
        detail === undefined ? label : `${label}, ${detail}`,
        text,
      ]),
    },
  };
}
