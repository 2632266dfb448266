import type { Metadata } from 'next';
import { looksFigure } from '@/app/(public)/studies/[slug]/looksFigure';
import { paragraphNumbers } from '@/app/(public)/studies/[slug]/paragraphNumbers';
import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { DemoMark } from '@/app/ui/DemoMark';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { repeatText } from '@/lib/answers/repeatText';
import { studyParagraph } from '@/lib/answers/studyParagraph';
import { readStudyPreview, type StudyPreview } from '@/lib/registry/studies/preview';
import { readView } from '../../../readView';
import { NextInStudy } from '../../NextInStudy';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Preview of a study', robots: { index: false } };

/** For whoever drives in the study, at the charger: what it says by now, with runs that nobody has reviewed yet. */
export default async function PreviewPage({ params }: { params: Promise<{ slug: string }> }) {
  const { slug } = await params;
  const actor = await requireSignedIn(`/studies/${encodeURIComponent(slug)}/preview`);
  const preview = await readView(readStudyPreview(registry(), actor, slug));
  const display = await readerDisplay();
  const { view, plan, standing, days } = preview;
  const { answers } = studyParagraph(paragraphNumbers(view, plan, standing), display);
  const titleOf = (id: string) => view.setups.find((setup) => setup.id === id)?.title ?? '';
  return (
    <>
      <PageHeader
        title="Preview"
        lead={view.question}
        breadcrumbs={[
          { label: 'Studies', href: '/studies' },
          { label: 'Study', href: `/studies/${slug}` },
          { label: 'Preview' },
        ]}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      <Notice kind="caution" title="Only you see this, and nothing of it counts yet.">
        <p>{madeOf(preview)}</p>
      </Notice>
      {answers.map(({ setupId, answer }) => (
        <AnswerBlock
          key={setupId}
          answer={answer}
          heading={answers.length > 1 ? titleOf(setupId) : undefined}
        />
      ))}
      {days.length > 0 ? (
        <Section
          id="days"
          title="Each day by itself"
          note="Held against what such runs repeat to: the class’s spread of runs, and what is known of each of these."
        >
          <ul className="max-w-[46rem] space-y-2">
            {days.map((day) => (
              <li key={`${day.sessionId} ${day.setupId}`}>
                <strong>
                  <Day of={day.day} />
                  {answers.length > 1 ? `, ${titleOf(day.setupId)}` : ''}
                </strong>
                : {repeatText(day, display)}
              </li>
            ))}
          </ul>
        </Section>
      ) : null}
      {days.length > 0 ? (
        <Section id="looks" title="After each day" note="Each bar may be read as soon as it appears." wide>
          {standing.contrasts.map((contrast) => {
            const answer = answers.find(({ setupId }) => setupId === contrast.setupId)?.answer;
            if (answer === undefined) return null;
            const names = { setup: titleOf(contrast.setupId), baseline: titleOf(plan.baselineId) };
            const figure = looksFigure(view, contrast, names, answer, display);
            return (
              <Figure
                key={contrast.setupId}
                figure={{ ...figure, title: `Preview: ${figure.title}` }}
                isTitleSaid
              />
            );
          })}
        </Section>
      ) : null}
      {view.mine.next ? (
        <Section id="next" title="Next">
          <NextInStudy next={view.mine.next} isPreview />
        </Section>
      ) : null}
      <p className="mt-8">
        <Link className="link" href={`/studies/${slug}`}>
          The study as everybody sees it
        </Link>
      </p>
    </>
  );
}

function madeOf({ runs: { counted, waiting }, without }: StudyPreview): string {
  const of = (count: number) => `${count} ${count === 1 ? 'run' : 'runs'}`;
  const made =
    waiting === 0
      ? `None of your runs waits with a number: this is what everybody sees, made from ${of(counted)}.`
      : `Made from ${of(waiting)} of yours that nobody has reviewed and ${of(counted)} that ${counted === 1 ? 'counts' : 'count'}. A review may change or refuse them.`;
  return without.length === 0
    ? made
    : `${made} Without a number at reference conditions: run ${without.join(', run ')}.`;
}
