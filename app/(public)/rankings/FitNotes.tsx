import { countText } from '@/app/ui/countText';
import { DefinitionList } from '@/app/ui/DefinitionList';
import { Disclosure } from '@/app/ui/Disclosure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';
import { showSignificant, withReadersMark } from '@/lib/units/show';
import { intervalsHref } from '../IntervalWarning';
import { RefitForm } from './RefitForm';
import { refitText, utcText } from './refitText';

/** A spread of logarithms as per cent: two significant digits, since a spread from few runs is not known to more. */
const percent = (log: number, display: Display) => `${showSignificant(100 * Math.expm1(log), 2, display)} %`;

/** A component that the fit put at 0, or that rounds to it: not seen is not the same as not there. */
const spreadText = (log: number, display: Display) =>
  100 * Math.expm1(log) < 0.005 ? 'none seen' : percent(log, display);

/** How the numbers above came about: the fit's state, its variance and what was left out. */
export function FitNotes({ view, display }: { view: RankingView; display: Display }) {
  const { fit } = view;
  const { repeatability } = fit;
  return (
    <Section id="fit" title="How these numbers were made" note="Times are UTC.">
      <DefinitionList
        items={[
          {
            term: 'Worked out',
            description: `${utcText(fit.fittedAt)}, ${countText({ runs: fit.runCount })}, method ${fit.methodVersion}`,
          },
          { term: 'Last calculation', description: refitText(view.refit) },
          ...(fit.spread
            ? [
                {
                  term: 'Spread between cars, days and runs',
                  description: [fit.spread.car, fit.spread.session, fit.spread.residual]
                    .map((spread) => spreadText(spread, display))
                    .join(', '),
                  note: 'what one car, one day and one run usually add',
                },
              ]
            : []),
          ...(repeatability
            ? [
                {
                  term: 'Two runs of one session differ by less than',
                  description: percent(repeatability.r, display),
                  note: 'in 95 % of cases',
                },
                {
                  term: 'Two runs of different cars and days, by less than',
                  description: percent(repeatability.R, display),
                  note: 'in 95 % of cases',
                },
              ]
            : []),
          {
            term: 'Left out',
            description: `${fit.notNormalised} approved ${fit.notNormalised === 1 ? 'run' : 'runs'} in conditions that cannot be adjusted for, ${fit.excluded} for other reasons`,
          },
          {
            term: 'Connection',
            description:
              fit.connected.length < 2
                ? fit.connected[0]?.setups === 1
                  ? 'one setup so far, so there is nothing to join'
                  : 'all setups are joined by cars that drove several of them'
                : `${fit.connected.length} groups of setups share no car`,
          },
        ]}
      />
      {remarks(fit).map((remark) => (
        <p key={remark} className="mt-3 max-w-[46rem] text-sm">
          {remark}
        </p>
      ))}
      <Disclosure title="In the terms of specialists">
        <p className="max-w-[46rem]">
          The spreads are standard deviations. What two runs differ by is the repeatability limit within a
          session and the reproducibility limit between cars and days (2.8 s, ISO 5725-6).
        </p>
      </Disclosure>
      {fit.notes.length === 0 ? null : (
        <Disclosure
          title="What the calculation noted"
          says="Where few runs have been driven, how much cars, days and runs vary is not seen in them and has to be assumed or borrowed; this is what was."
        >
          <ul className="max-w-[46rem] space-y-1">
            {fit.notes.map((note) => (
              <li key={note}>{withReadersMark(note, display)}</li>
            ))}
          </ul>
        </Disclosure>
      )}
      <p className="mt-3 max-w-[46rem] text-sm">
        <Link
          className="link"
          href={intervalsHref({ classKey: view.group.cruiseClassKey, world: view.group.world })}
        >
          Do the intervals at {view.classLabel} hold?
        </Link>
      </p>
      {view.mayRefit ? <RefitForm {...view.group} /> : null}
    </Section>
  );
}

/** What takes a sentence: borrowed variation, and what shared cars join. */
function remarks({ pooledFrom, connected }: RankingView['fit']): string[] {
  const groups = connected.map(
    ({ model, setups }) => `${model} (${setups} ${setups === 1 ? 'setup' : 'setups'})`,
  );
  return [
    ...(pooledFrom === null
      ? []
      : [
          `Too few cars of this class drove two loops to see how a car differs from loop to loop: that is pooled over ${pooledFrom}. Each setup keeps its own level in each class; only the scatter about it is shared.`,
        ]),
    ...(groups.length < 2
      ? []
      : [
          `Joined by shared cars: ${groups.join('; ')}. Between models a difference rests on the assumption that testers’ cars are a fair sample of their models, and its interval carries the variation between cars; within a model it is refused.`,
        ]),
  ];
}
