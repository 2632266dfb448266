import { DefinitionList } from '@/app/ui/DefinitionList';
import { Notice } from '@/app/ui/Notice';
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
      {fit.converged ? null : (
        <Notice kind="caution" title="The fit did not converge: treat these intervals as provisional." />
      )}
      <DefinitionList
        items={[
          {
            term: 'Fitted',
            description: `${utcText(fit.fittedAt)}, ${fit.runCount} runs, method ${fit.methodVersion}`,
          },
          { term: 'Last refit', description: refitText(view.refit) },
          ...(fit.pooledFrom
            ? [
                {
                  term: 'Variation between cars, days and runs',
                  description: `pooled over ${fit.pooledFrom}`,
                  note: 'This class alone has too few cars or repeats to tell the three apart; each class keeps its own consumption levels, only the scatter is shared.',
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
          ...(fit.componentCount > 1
            ? [
                {
                  term: 'Connection',
                  description: `${fit.componentCount} groups of setups share no car`,
                  note: 'Between such groups a difference rests on the assumption that testers’ cars are a fair sample of their models; its interval carries the variation between cars.',
                },
              ]
            : []),
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
