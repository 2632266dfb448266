import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { RankingView } from '@/lib/registry/views/rankings';
import { formatNumber } from '@/lib/units/format';
import { RefitForm } from './RefitForm';
import { refitText, utcText } from './refitText';

const percent = (log: number) => `${formatNumber(100 * Math.expm1(log), 2)} %`;

/** How the numbers above came about: the fit's state, its variance and what was left out. */
export function FitNotes({ view }: { view: RankingView }) {
  const { fit } = view;
  const { repeatability } = fit;
  return (
    <Section id="fit" title="How these numbers were made">
      <DefinitionList
        items={[
          {
            term: 'Fitted',
            description: `${utcText(fit.fittedAt)}, ${fit.runCount} runs, method ${fit.methodVersion}`,
          },
          { term: 'Last refit', description: refitText(view.refit) },
          ...(fit.spread
            ? [
                {
                  term: 'Spread between cars, days and runs',
                  description: `${percent(fit.spread.car)}, ${percent(fit.spread.session)}, ${percent(fit.spread.residual)}`,
                  note: fit.pooledFrom
                    ? `Standard deviations, pooled over ${fit.pooledFrom}: this class alone has too few cars or repeats to tell the three apart.`
                    : 'Standard deviations, from the runs of this class.',
                },
              ]
            : []),
          ...(repeatability
            ? [
                {
                  term: 'Repeatability limit',
                  description: percent(repeatability.r),
                  note: 'Two runs of one session differ by less than this in 95 % of cases (2.8 s).',
                },
                {
                  term: 'Reproducibility limit',
                  description: percent(repeatability.R),
                  note: 'The same for two runs of different cars and days.',
                },
              ]
            : []),
          {
            term: 'Left out',
            description: `${fit.notNormalised} approved runs outside the method’s reach, ${fit.excluded} excluded by the fit`,
          },
          connection(fit.connected),
        ]}
      />
      {view.mayRefit ? <RefitForm {...view.group} /> : null}
      {fit.notes.map((note) => (
        <p key={note} className="mt-3 max-w-[46rem] text-sm">
          {note}
        </p>
      ))}
    </Section>
  );
}

/** Which setups shared cars join, and what that means for the others. */
function connection(groups: RankingView['fit']['connected']) {
  const setups = (count: number) => `${count} ${count === 1 ? 'setup' : 'setups'}`;
  if (groups.length < 2) {
    return { term: 'Connection', description: 'all setups are joined by cars that drove several of them' };
  }
  return {
    term: 'Connection',
    description: `${groups.length} groups of setups share no car`,
    note: `${groups.map((group) => `${group.model} (${setups(group.setups)})`).join('; ')}. Between models a difference rests on the assumption that testers’ cars are a fair sample of their models, and its interval carries the variation between cars; within a model it is refused.`,
  };
}
