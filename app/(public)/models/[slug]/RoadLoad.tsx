import { Figure } from '@/app/ui/figures/Figure';
import { Section } from '@/app/ui/Section';
import { registry } from '@/app/visitor/registry';
import { readRoadLoad } from '@/lib/registry/roadLoads/roadLoad';
import { dayWords } from '@/lib/run/localDate';
import type { WorldKey } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';
import { RoadLoadTerms } from './RoadLoadTerms';
import { roadLoadFigure } from './roadLoadFigure';

interface RoadLoadProps {
  model: { slug: string; name: string; world: WorldKey };
  display: Display;
}

/** What the model's own runs say of its drag, rolling and auxiliary power, beside what is believed beforehand. */
export async function RoadLoad({ model, display }: RoadLoadProps) {
  const { learned, isUnreadable, methodVersion, adopted: adoption } = await readRoadLoad(registry(), model);
  const adopted =
    adoption === null
      ? `Under method version ${methodVersion} the adjustments use the priors; taking learned values for them is a new version of the method.`
      : `Adopted on ${dayWords(adoption.on)} under method version ${adoption.label}, as learned from ${adoption.runs} runs then: the adjustments of all its setups use it, those of another setup with a further uncertainty for what was changed. What is shown here is learned anew with every run and changes no number by itself.`;
  if (learned === null) {
    return (
      <Section id="road-load" title="Learned road load" note={adopted}>
        <p className="max-w-[38rem] text-ink-soft">
          {isUnreadable
            ? 'What was learned from this model’s runs can no longer be read. The next approved run has it learned anew.'
            : 'Too few approved runs of this model are within the method’s reach to learn its road load from.'}
        </p>
      </Section>
    );
  }
  const { gainPerRun, runs, cars, sessions, beatsPriors } = learned;
  const odds = showNumber(Math.exp(Math.abs(gainPerRun)), 2, display);
  const gain = showNumber(gainPerRun, 2, display, { signed: true });
  const from = learned.setups
    .map((setup) => `“${setup.title}” (${setup.runs} ${setup.runs === 1 ? 'run' : 'runs'})`)
    .join(', ');
  const leftOut = learned.leftOut.map(({ reason, runs: count }) => `${count} ${reason}`).join(', ');
  return (
    <Section id="road-load" title="Learned road load" note={adopted} wide>
      <p className="max-w-[46rem]">
        {beatsPriors
          ? `Whole cars are predicted better from the other cars than from the priors alone: on average each of their runs was ${odds} times as probable (log score ${gain} a run, natural logarithm, each car left out in turn).`
          : `The cars do not beat the priors: the runs of each car, left out in turn, were on average ${odds} times less probable when predicted from the other cars (log score ${gain} a run, natural logarithm).`}
      </p>
      <Figure figure={roadLoadFigure(model, learned, display)} />
      <RoadLoadTerms display={display} terms={learned.terms} />
      <p className="mt-4 max-w-[46rem] text-sm text-ink-soft">
        From {runs} of {learned.approvedRuns} approved runs in all classes, {cars}{' '}
        {cars === 1 ? 'car' : 'cars'}, {sessions} {sessions === 1 ? 'day' : 'days'}:{' '}
        {learned.basis === 'asDelivered'
          ? 'setups that leave drag, tyres and drive as delivered'
          : 'the setup with most runs, since none was driven as delivered'}
        , {from}. {leftOut === '' ? '' : `Left out: ${leftOut}. `}
        Scatter of cars, days and runs from {learned.spread.from}.
      </p>
    </Section>
  );
}
