import { unbroken } from '@/app/ui/answers/unbroken';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { Section } from '@/app/ui/Section';
import { savingSentence } from '@/lib/answers/estimateSentence';
import { setupAtStart } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { IntervalWarning } from '../IntervalWarning';
import { NotConverged } from '../NotConverged';
import { hrefWith } from '../rankings/query';
import type { EstimateOfFigure } from './estimateSource';
import { Parts } from './Parts';
import { rangeFigure } from './rangeFigure';
import { soonestWords, speedsFigure } from './speedsFigure';
import { stepsFigure } from './stepsFigure';
import { TripPlan } from './TripPlan';
import { answerWords, besideWords, climateLikely } from './words';

interface AnswerProps {
  of: EstimateOfFigure;
  display: Display;
  part: 'answer' | 'evidence';
}

/** What a reader came for, and below the form what it rests on. */
export function AnswerOfEstimate({ of, display, part }: AnswerProps) {
  return part === 'answer' ? <Sentences of={of} display={display} /> : <Evidence of={of} display={display} />;
}

function Sentences({ of, display }: Omit<AnswerProps, 'part'>) {
  const { answered, speedMps, view, params } = of;
  const { first, second, asked, differences } = answered;
  const sentence = answerWords(first, { asked, speedMps }, display);
  const beside = besideWords(asked, display);
  const likely = climateLikely(asked);
  return (
    <>
      <div className="mb-6 max-w-[46rem] border-l-2 border-accent pl-4">
        <p className="font-serif text-xl leading-snug">{unbroken(sentence)}</p>
        {second !== undefined && differences !== null ? (
          <p className="mt-2 font-serif text-lg leading-snug">
            {unbroken(
              savingSentence(
                'rangeM',
                differences.rangeM,
                { setup: second.title, against: first.title },
                display,
              ),
            )}
          </p>
        ) : null}
        <p className="mt-2 text-sm text-ink-soft">
          {beside.length === 0 ? null : `Asked for besides: ${beside.join(', ')}. `}
          In the brackets: where 95 of 100 such trips would lie.
        </p>
        {likely === undefined ? null : (
          <p className="mt-1 text-sm text-ink-soft">
            The cabin is taken to draw 500 W, as at reference conditions; {likely} may take far more.{' '}
            <Link className="link" href={hrefWith('/estimate', params, { climate: likely })}>
              Ask with the {likely} on
            </Link>
          </p>
        )}
      </div>
      {view.isAgainstOfOtherModel ? (
        <Notice
          kind="info"
          title="Only setups of one model can be held beside each other: the other one is left out."
        />
      ) : null}
      {view.againstWithout === undefined ? null : (
        <Notice
          kind="info"
          title={`${setupAtStart(view.against?.title ?? '')} has no number near this speed.`}
        />
      )}
    </>
  );
}

function Evidence({ of, display }: Omit<AnswerProps, 'part'>) {
  const { answered, view, setup } = of;
  const { speeds, of: from } = answered;
  return (
    <>
      {from.converged ? null : <NotConverged at={from.label} />}
      <IntervalWarning
        classKey={from.key}
        classLabel={from.label}
        world={view.world ?? 'record'}
        faults={from.faults}
      />
      <Figure figure={rangeFigure(of, display)} isTitleSaid />
      <TripPlan answered={answered} modelSlug={setup.modelSlug} display={display} />
      {speeds === null ? null : (
        <Section
          id="speeds"
          title="How fast is soonest?"
          note="The same trip and conditions at each speed that this setup was driven at. Posted limits come first."
          wide
        >
          <p className="max-w-[46rem]">{soonestWords(speeds)}</p>
          <Figure figure={speedsFigure(of, speeds, display)} isTitleSaid />
        </Section>
      )}
      <Parts answered={answered} display={display} />
      <Section
        id="consumption"
        title="Where the energy goes"
        note={
          <>
            Starts from{' '}
            <Link className="link" href={`/setups/${setup.slug}?class=${from.key}`}>
              this setup at {from.label}
            </Link>
            .
          </>
        }
        wide
      >
        <Figure figure={stepsFigure(of, display)} />
      </Section>
    </>
  );
}
