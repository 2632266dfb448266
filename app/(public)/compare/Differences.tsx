import Link from 'next/link';
import { FigureWithTable } from '@/app/ui/figures/FigureWithTable';
import { ForestPlot } from '@/app/ui/figures/ForestPlot';
import { Section } from '@/app/ui/Section';
import type { ComparedSetup, CompareView, SetupDifference } from '@/lib/registry/comparisons/compare';
import type { Display } from '@/lib/units/display';
import { percentEndsIn, percentIn, senseOf } from '@/lib/units/sense';
import { budgetPlace, showNumber } from '@/lib/units/show';
import { differencePlace, differenceText, endsText, resultText, signedText, verdict } from './words';

interface DifferencesProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** Each setup against the baseline, with what joins the pair and what the interval leaves open. */
export function Differences({ view, baseline, display }: DifferencesProps) {
  const unit = display.consumption;
  const sense = senseOf(unit);
  const drawn = view.differences.flatMap((difference) => {
    const { setup, percent, pointwise, simultaneous, word } = difference;
    if (percent === null || simultaneous === null) return [];
    return [
      {
        key: setup.setupId,
        label: setup.name,
        estimate: percentIn(unit, percent),
        ...(pointwise === null ? {} : { pointwise: percentEndsIn(unit, pointwise) }),
        simultaneous: percentEndsIn(unit, simultaneous),
        text: differenceText(difference, display),
        note: resultText(difference),
        muted: word === 'undecided',
      },
    ];
  });
  return (
    <Section
      id="differences"
      title={`Difference in ${sense.quantity}`}
      note={`Against “${baseline.name}”, from the fit of all ${view.fit?.runCount ?? 0} runs of the class. ${sense.isHigherBetter ? 'Above zero is further' : 'Below zero is less'}.`}
      wide
    >
      <ul className="max-w-[46rem] space-y-3">
        {view.differences.map((difference) => (
          <li key={difference.setup.setupId}>
            {verdict(difference, baseline.name, display)}{' '}
            <span className="block text-sm text-ink-soft">Joined by: {difference.connection}.</span>
          </li>
        ))}
      </ul>
      <FigureWithTable
        caption={`Difference from “${baseline.name}” in per cent of its ${sense.quantity}, as a ratio.`}
        reading={`The thick bar is the 95 % interval of one difference taken alone; the thin one holds for all ${view.fit?.pairsAtOnce ?? 0} comparable pairs of the class at once. A difference is settled when the thin bar leaves zero out, probable when the interval for all pairs of its model does, leaning when only the thick bar does, else undecided, which does not mean equal. One that rests on one tester is never settled. Both bars hold what is uncertain about the method and the models’ data, as far as it does not cancel; that part stands in the table too.`}
        tableCaption="Differences from the baseline"
        table={{
          columns: [
            { header: 'Setup' },
            { header: 'Difference', unit: '%' },
            { header: 'Alone, 95 %', unit: '%' },
            { header: 'All pairs, 95 %', unit: '%' },
            { header: 'Degrees of freedom' },
            { header: 'Of which method and model data, u', unit: '%' },
            { header: 'Result', align: 'start' },
            { header: 'Joined by', align: 'start' },
          ],
          rows: view.differences.map((difference) => tableRow(difference, display)),
        }}
      >
        {drawn.length === 0 ? (
          <p className="border-y border-dashed border-rule-strong py-6 text-ink-soft">
            None of these pairs has an interval to draw; the sentences above say why.
          </p>
        ) : (
          <ForestPlot
            title={`Differences from ${baseline.name}`}
            desc={drawn.map((row) => `${row.label}: ${row.text}, ${row.note}`).join('. ')}
            rows={drawn}
            axisLabel={`difference in ${sense.quantity}, %`}
            zeroLabel="as the baseline"
          />
        )}
      </FigureWithTable>
    </Section>
  );
}

function tableRow(difference: SetupDifference, display: Display) {
  const place = differencePlace(difference, display);
  const { setup, percent, pointwise, simultaneous, dof, refusal, connection } = difference;
  const { sharedUPercent } = difference;
  return [
    <Link key="setup" className="link" href={`/setups/${setup.slug}`}>
      {setup.name}
    </Link>,
    percent === null ? '–' : signedText(percent, display, place),
    pointwise === null ? '–' : endsText(pointwise, display, place),
    simultaneous === null ? '–' : endsText(simultaneous, display, place),
    dof === null ? '–' : showNumber(dof, 0, display),
    sharedUPercent === null ? '–' : showNumber(sharedUPercent, budgetPlace(place), display),
    refusal ?? resultText(difference),
    connection,
  ];
}
