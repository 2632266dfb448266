import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { oembedAddress } from '@/app/oembed/oembedAnswer';
import { AnswerBlock } from '@/app/ui/answers/AnswerBlock';
import { DemoMark } from '@/app/ui/DemoMark';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { Day } from '@/app/ui/When';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { readStudy, type StudyView } from '@/lib/registry/studies/study';
import { readStudyWays } from '@/lib/registry/studies/studyWays';
import { dateText } from '@/lib/run/localDate';
import { STUDY_STATE_LABELS } from '@/lib/study/studyState';
import type { SearchParams } from '../../rankings/query';
import { DrivenDays } from './DrivenDays';
import { Guesses } from './Guesses';
import { Mine } from './Mine';
import { PlanPart } from './PlanPart';
import { StudyWays } from './StudyWays';
import { publishedStudy } from './studyFigures';

export const dynamic = 'force-dynamic';

interface StudyPageProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const studyOf = cache(async (slug: string) => readStudy(registry(), await signedIn(), slug));

export async function generateMetadata({ params }: StudyPageProps): Promise<Metadata> {
  const { slug } = await params;
  const view = await studyOf(slug);
  return view === undefined
    ? pageMetadata('studies')
    : pageMetadata('studies', {
        title: view.question,
        path: `/studies/${slug}`,
        figure: { kind: 'study', key: slug },
        oembed: oembedAddress(`/studies/${slug}`),
        hasFeed: true,
      });
}

export default async function StudyPage({ params, searchParams }: StudyPageProps) {
  const { slug } = await params;
  const view = await studyOf(slug);
  if (view === undefined) notFound();
  const display = await readerDisplay(await searchParams);
  const ways = await readStudyWays(registry(), view);
  const { plan } = view;
  const titles = new Map(view.setups.map(({ id, title }) => [id, title]));
  const { paragraph, contrasts = [] } = publishedStudy(view, display) ?? {};
  return (
    <>
      <PageHeader
        title={view.question}
        breadcrumbs={[
          { label: 'Studies', href: '/studies' },
          { label: STUDY_STATE_LABELS[view.state], href: `/studies?state=${view.state}` },
        ]}
        meta={<Meta view={view} />}
        actions={
          <>
            <LinkButton href={`/studies/${slug}/publish`}>Publish it</LinkButton>
            <LinkButton href={`/studies/${slug}/sheet`}>Sheet to print</LinkButton>
            {plan?.calendar ? (
              // A file, not a page: the browser takes it.
              <a className="link" href={`/studies/${slug}/calendar.ics`}>
                Calendar file
              </a>
            ) : null}
          </>
        }
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {view.state === 'abandoned' ? (
        <Notice kind="caution" title="This study was given up.">
          <p>{view.endReason}</p>
        </Notice>
      ) : null}
      {paragraph === undefined ? (
        <Notice kind="problem" title="The plan of this study can no longer be read." />
      ) : (
        <>
          {paragraph.answers.map(({ setupId, answer }) => (
            <AnswerBlock
              key={setupId}
              answer={answer}
              heading={paragraph.answers.length > 1 ? titles.get(setupId) : undefined}
            />
          ))}
          <p className="max-w-[46rem]">
            {paragraph.driven} {paragraph.which}
          </p>
        </>
      )}
      <Mine view={view} />
      {contrasts.length > 0 && view.counts.counted > 0 ? (
        <Section
          id="looks"
          title="After each day"
          note={
            <>
              Each bar may be read as soon as it appears.{' '}
              <Link className="link" href="/method#studies">
                How that works
              </Link>
            </>
          }
          wide
        >
          {contrasts.map(({ contrast, figure }) => (
            <Figure key={contrast.setupId} figure={figure} isTitleSaid />
          ))}
        </Section>
      ) : null}
      <StudyWays view={view} contrasts={contrasts} ways={ways} display={display} />
      <Guesses view={view} display={display} />
      {paragraph && paragraph.cannot.length > 0 ? (
        <Section id="cannot" title="What this does not say">
          <ul className="max-w-[46rem] list-disc space-y-1 pl-5">
            {paragraph.cannot.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </Section>
      ) : null}
      {plan === undefined ? null : (
        <>
          <DrivenDays view={view} plan={plan} display={display} />
          <PlanPart view={view} plan={plan} display={display} />
        </>
      )}
      <SafetyCaution kind="study" />
    </>
  );
}

function Meta({ view }: { view: StudyView }) {
  const at = view.endedAt ?? view.beganAt ?? view.createdAt;
  return (
    <>
      <span className="font-semibold">{STUDY_STATE_LABELS[view.state]}</span>
      <span>
        since <Day of={dateText(at)} />
      </span>
      <span>
        <Link className="link" href={`/models/${view.model.slug}`}>
          {view.model.words}
        </Link>
        , {view.classLabel}, on{' '}
        <Link className="link" href={`/loops/${view.loop.slug}`}>
          {view.loop.name}
        </Link>
      </span>
      <span>
        Planned by{' '}
        <Link className="link" href={`/testers/${view.owner.slug}`}>
          {view.owner.displayName}
        </Link>
        {view.testers.length > 1 ? `, driven by ${view.testers.length} testers` : ''}
      </span>
      {view.request === null ? null : (
        <span>
          <Link className="link" href={`/requests/${view.request.id}`}>
            Asked for by readers
          </Link>
        </span>
      )}
    </>
  );
}
