import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { EvidenceTag } from '@/app/ui/answers/EvidenceTag';
import { DataTable } from '@/app/ui/DataTable';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { answerOf } from '@/lib/answers/answer';
import type { SpeedStepView } from '@/lib/registry/factors/speeds';
import type { WorldKey } from '@/lib/run/world';
import { LEAST_GROUPS } from '@/lib/stats/factors/pooledEffect';
import type { Display } from '@/lib/units/display';
import { speedFigure } from '../effectFigure';
import { capital, modelsText, perTenText, speedsAsked, tooFewText } from '../words';

interface SpeedStepProps {
  step: SpeedStepView;
  of: { world: WorldKey; asOf: Date };
  display: Display;
}

/** What one step of speed costs. */
export function SpeedStep({ step, of, display }: SpeedStepProps) {
  const asked = speedsAsked(step);
  const { pooled } = step;
  return (
    <Section
      id={`${step.slow.key}-${step.fast.key}`}
      title={`${step.fast.label} against ${step.slow.label}`}
      wide
    >
      {pooled === null ? (
        <p className="mb-6 max-w-[46rem] text-ink-soft">
          {tooFewText(step.models.filter(({ answer }) => answer !== null).length)}
        </p>
      ) : (
        <>
          <AnswerBlock
            answer={answerOf(pooled, asked, display)}
            heading={`${capital(modelsText(pooled.groups))} together`}
          />
          <p className="mb-6 max-w-[46rem]">{perTenText(pooled, display)}</p>
        </>
      )}
      <Figure figure={speedFigure(step, of, display)} isTitleSaid />
      <Models step={step} display={display} />
    </Section>
  );
}

function Models({ step, display }: { step: SpeedStepView; display: Display }) {
  const asked = speedsAsked(step);
  return (
    <DataTable
      caption="Model by model, from the cars that drove one setup at both speeds"
      rows={step.models}
      rowKey={({ setup }) => setup.setupId}
      columns={[
        {
          key: 'model',
          header: 'Model',
          rowHeader: true,
          cell: ({ model, modelSlug }) => (
            <Link className="link" href={`/models/${modelSlug}`}>
              {model}
            </Link>
          ),
        },
        {
          key: 'setup',
          header: 'Setup',
          cell: ({ setup }) => (
            <Link className="link" href={`/setups/${setup.slug}`}>
              {setup.title}
            </Link>
          ),
        },
        { key: 'cars', header: 'Cars', align: 'end', cell: ({ cars }) => cars },
        {
          key: 'answer',
          header: 'Answer',
          answer: true,
          wide: true,
          cell: ({ answer, cars }) =>
            answer === null ? (
              `${cars} of the ${LEAST_GROUPS} cars that an answer takes`
            ) : (
              <>
                <EvidenceTag word={answerOf(answer, asked, display).word} />{' '}
                <span className="block">{answerOf(answer, asked, display).line}</span>
              </>
            ),
        },
      ]}
    />
  );
}
