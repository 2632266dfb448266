import type { FigureDescription } from '@/app/ui/figures/description';
import { resultText } from '@/lib/answers/answer';
import { differencePlace, signedText } from '@/lib/answers/differenceText';
import type { ModelView } from '@/lib/registry/models/model';
import { dateText } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import { type Display, displayParameters } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { forestRows } from '../../compare/forestRows';
import {
  differenceReading,
  intervalCells,
  intervalColumns,
  markLabels,
  OF_RANKING,
} from '../../differenceIntervals';
import { hrefWith } from '../../rankings/query';

/** Setups one change away from the baseline, and what the change did; nothing where none was driven. */
export function changesFigure(view: ModelView, display: Display): FigureDescription | undefined {
  const { baseline, changes, classKey, classLabel, world } = view;
  if (changes.length === 0 || baseline === undefined || classKey === undefined) return undefined;
  const unit = display.consumption;
  const sense = senseOf(unit);
  const said = Object.fromEntries(displayParameters(display));
  const rows = forestRows(changes, ({ factorLabel, to }) => `${factorLabel}: ${to.label}`, display);
  const settled = rows.filter(({ note }) => note === 'settled');
  const [only, second] = rows;
  const runs = view.classes.find(({ key }) => key === classKey)?.runs ?? 0;
  return {
    address: { kind: 'changes', key: view.slug, query: { ...said, class: classKey } },
    title:
      only && !second
        ? `${view.name} at ${classLabel}, ${setupInText(only.label)} against ${setupInText(baseline.title)}: ${only.text}, ${only.note}.`
        : `${view.name} at ${classLabel}: ${settled.length} of ${changes.length} single changes from ${setupInText(baseline.title)} ${settled.length === 1 ? 'is' : 'are'} settled.`,
    desc: rows.map((row) => `${row.label}: ${row.text}, ${row.note}`).join('. '),
    reading: `${differenceReading(OF_RANKING, display)} A change is settled when the thin bar leaves zero out, probable when only the interval for all pairs of this model does, leaning when only the thick bar does. What rests mainly on one tester has the next weaker word, however far its bars lie from zero.`,
    counts: `${runs} runs of the model at ${classLabel} · ${changes.length} single ${changes.length === 1 ? 'change' : 'changes'}`,
    source: {
      path: hrefWith(`/models/${view.slug}`, {}, { ...said, class: classKey }),
      asOf: dateText(view.fittedAt ?? new Date(0)),
    },
    isDemo: world === 'demo',
    mark: display.mark,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'No single change has an interval yet; the table says why.' }
        : {
            kind: 'forest',
            rows,
            axisLabel: `difference in ${sense.quantity} from ${setupInText(baseline.title)}, %`,
            ...markLabels(OF_RANKING),
          },
    table: {
      caption: `Single changes at ${classLabel}`,
      columns: [
        { header: 'Change' },
        { header: 'Difference', unit: '%' },
        ...intervalColumns(OF_RANKING),
        { header: 'Result', align: 'start' },
        { header: 'Joined by', align: 'start' },
      ],
      rows: changes.map((change) => [
        `${change.factorLabel}: ${change.from.label} to ${change.to.label}`,
        change.percent === null ? '–' : signedText(change.percent, display, differencePlace(change, display)),
        ...intervalCells(change, OF_RANKING, display, differencePlace(change, display)),
        change.refusal ?? resultText(change),
        change.connection,
      ]),
    },
  };
}
