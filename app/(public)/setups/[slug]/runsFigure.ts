import { countText } from '@/app/ui/countText';
import type { FigureDescription } from '@/app/ui/figures/description';
import type { ClassEstimate, SetupView } from '@/lib/registry/setups/setup';
import { dayWords } from '@/lib/run/localDate';
import type { Display } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { fromCanonical, unitSymbol } from '@/lib/units/unit';
import { consumptionNumber, fittedText } from '../../consumptionText';
import { setupSource } from './setupSource';

/** The runs behind the estimate of one class: one row a session, one dot a run. */
export function runsFigure(view: SetupView, chosen: ClassEstimate, display: Display): FigureDescription {
  const unit = display.consumption;
  const { counts, sessions } = view;
  const estimate = fittedText(chosen, display);
  const drawnRuns = sessions.reduce((sum, session) => sum + session.runs.length, 0);
  const isWhole = drawnRuns === counts.runs;
  const runs = sessions.flatMap((session) => session.runs.map((run) => ({ ...run, session })));
  const rowOf = new Map(runs.map(({ number }, row) => [number, row]));
  const drawn = sessions
    .map((session) => ({
      session,
      runs: session.runs.flatMap(({ number, normalisedWhPerKm }) =>
        normalisedWhPerKm === null
          ? []
          : [{ number, value: fromCanonical(normalisedWhPerKm, unit), row: rowOf.get(number) ?? 0 }],
      ),
    }))
    .filter((row) => row.runs.length > 0);
  const beyond = isWhole
    ? ''
    : ` Drawn are the latest ${drawnRuns} of ${countText({ runs: counts.runs })}, from ${sessions.length} of ${countText({ sessions: counts.sessions })}.`;
  return {
    ...setupSource('setup-runs', view, chosen, display),
    title: `${view.title}, ${view.model}, at ${chosen.classLabel}: ${counts.runs} ${counts.runs === 1 ? 'run' : 'runs'} around an estimate of ${estimate}.${beyond}`,
    desc: `${countText({ runs: chosen.runs, sessions: counts.sessions, cars: counts.cars })}; one row a session, one dot a run, around ${estimate}.`,
    reading:
      'The upright line is the estimate. It is not a plain mean: a session counts by how much it can tell.',
    counts: countText({ runs: chosen.runs, sessions: counts.sessions, cars: counts.cars }),
    drawing:
      drawn.length === 0
        ? { kind: 'none', why: 'None of these runs has a number at reference conditions to draw.' }
        : {
            kind: 'sessions',
            rows: drawn.map(({ session, runs: dots }, index) => ({
              // not by the session's own name: it tells to the millisecond when the first of its runs was sent in
              key: String(index),
              label: `${session.car}, ${dayWords(session.date)}`,
              detail: session.loopName,
              ruled: index > 0 && drawn[index - 1]?.session.carId !== session.carId,
              runs: dots,
            })),
            estimate: {
              value: fromCanonical(chosen.estimateWhPerKm, unit),
              label: `estimate ${estimate}`,
            },
            axisLabel: `${senseOf(unit).quantity} at reference conditions, ${unitSymbol(unit)}`,
          },
    table: {
      caption: `${isWhole ? 'Runs' : 'Latest runs'} of ${view.title} at ${chosen.classLabel}`,
      columns: [
        { header: 'Run' },
        { header: 'Car', align: 'start' },
        { header: 'Date', align: 'start' },
        { header: 'Loop', align: 'start' },
        { header: 'Measured', unit: unitSymbol(unit) },
        { header: 'At reference conditions', unit: unitSymbol(unit) },
      ],
      rows: runs.map(({ session, ...run }) => [
        { text: `Run ${run.number}`, href: `/runs/${run.number}` },
        session.car,
        dayWords(session.date),
        session.loopName,
        run.measuredWhPerKm === null ? '–' : consumptionNumber(run.measuredWhPerKm, display),
        run.normalisedWhPerKm === null ? 'no number' : consumptionNumber(run.normalisedWhPerKm, display),
      ]),
    },
  };
}
