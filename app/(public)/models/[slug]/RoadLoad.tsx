import { Disclosure } from '@/app/ui/Disclosure';
import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import { registry } from '@/app/visitor/registry';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { dayWords } from '@/lib/run/localDate';
import { setupInText } from '@/lib/run/setupTitle';
import type { WorldKey } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { RoadLoadTerms } from './RoadLoadTerms';
import { roadLoadFigure } from './roadLoadFigure';

const TITLE = 'Drag and rolling, learned from the runs';

interface RoadLoadProps {
  model: { slug: string; name: string; world: WorldKey };
  display: Display;
}

/** What the model's own runs say of its drag, rolling and auxiliary power, beside what is believed beforehand. */
export async function RoadLoad({ model, display }: RoadLoadProps) {
  const { learned, isUnreadable, methodVersion, adopted: adoption } = await readRoadLoad(registry(), model);
  const adopted =
    adoption === null
      ? `Under method version ${methodVersion} the adjustments use typical values (priors); to use learned ones instead would be a new version of the method.`
      : `Adopted on ${dayWords(adoption.on)} under method version ${adoption.label}, as learned from ${adoption.runs} runs then: the adjustments of all its setups use it, those of another setup with more uncertainty for what was changed. What stands here is learned anew with every run and changes no number by itself.`;
  if (learned === null) {
    return (
      <Section id="road-load" title={TITLE} note={adopted}>
        <p className="max-w-[38rem] text-ink-soft">
          {isUnreadable
            ? 'What was learned from this model’s runs can no longer be read. It is learned anew with the next approved run.'
            : 'Too few approved runs of this model can be adjusted to learn its drag and rolling from them.'}
        </p>
      </Section>
    );
  }
  const { gainPerRun, runs, cars, sessions, beatsPriors } = learned;
  /** Less than a twentieth more probable: next to nothing. */
  const isClose = Math.exp(Math.abs(gainPerRun)) < 1.05;
  const odds = showNumber(Math.exp(Math.abs(gainPerRun)), 2, display);
  const gain = showNumber(gainPerRun, 2, display, { signed: true });
  const from = learned.setups
    .map((setup) => `${setupInText(setup.title)} (${setup.runs} ${setup.runs === 1 ? 'run' : 'runs'})`)
    .join(', ');
  const leftOut = learned.leftOut.map(({ reason, runs: count }) => `${count} ${reason}`).join(', ');
  return (
    <Section id="road-load" title={TITLE} note={adopted} wide>
      <p className="max-w-[46rem]">
        {beatsPriors
          ? `When each car is left out in turn, the other cars predict its runs ${isClose ? 'barely ' : ''}better than typical values for such a car do.`
          : `When each car is left out in turn, the other cars predict its runs no better than typical values for such a car do.`}
      </p>
      <Figure figure={roadLoadFigure(model, learned, display)} />
      <p className="mt-4 max-w-[46rem] text-sm text-ink-soft">
        From {runs} of {learned.approvedRuns} approved runs in all classes, {cars}{' '}
        {cars === 1 ? 'car' : 'cars'}, {sessions} {sessions === 1 ? 'day' : 'days'}:{' '}
        {learned.basis === 'asDelivered'
          ? 'setups that leave drag, tyres and drive as delivered'
          : 'the setup with most runs, since none was driven as delivered'}
        , {from}. {leftOut === '' ? '' : `Left out: ${leftOut}. `}
      </p>
      <Disclosure
        title="What was learned, in numbers"
        says="Each line shows a property of the car twice: as expected of such a car before any run (the prior), and as its runs make it."
      >
        <RoadLoadTerms display={display} terms={learned.terms} />
        <p className="mt-4 max-w-[46rem]">
          Each run of a car left out was on average {odds} times {beatsPriors ? 'as' : 'less'} probable when
          predicted from the other cars: a log score of {gain} a run (natural logarithm) over the priors. How
          far cars, days and runs differ is taken from {learned.spread.from}.
        </p>
      </Disclosure>
    </Section>
  );
}
