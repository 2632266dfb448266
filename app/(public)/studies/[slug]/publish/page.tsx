import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { studyEmbed } from '@/app/embed/embeddable';
import { CopyText } from '@/app/publishPack/CopyText';
import { PackEmbed } from '@/app/publishPack/PackEmbed';
import { PackFigures } from '@/app/publishPack/PackFigures';
import { PackWords } from '@/app/publishPack/PackWords';
import { DemoMark } from '@/app/ui/DemoMark';
import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { PageHeader } from '@/app/ui/PageHeader';
import { SafetyCaution } from '@/app/ui/SafetyCaution';
import { Section } from '@/app/ui/Section';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { registry } from '@/app/visitor/registry';
import { snapshotToCite } from '@/lib/registry/openData/snapshots';
import { readStudy, type StudyView } from '@/lib/registry/studies/study';
import { VIDEO_FIELD } from '@/lib/registry/studies/timeRuns';
import { showVideoTime } from '@/lib/study/videoTimes';
import type { SearchParams } from '../../../rankings/query';
import { publishedStudy } from '../studyFigures';
import { citationOfStudy, studyVideoText } from '../studyWords';
import { TimesForm } from './TimesForm';
import { namedRuns, videoLists } from './videoLists';

export const dynamic = 'force-dynamic';
export const metadata: Metadata = { title: 'Publish a study', robots: { index: false } };

interface PublishStudyProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Everything that a video or an article about a study needs, in one place. */
export default async function PublishStudyPage({ params, searchParams }: PublishStudyProps) {
  const { slug } = await params;
  const [view, actor] = [await readStudy(registry(), undefined, slug), await signedIn()];
  if (view === undefined) notFound();
  const display = await readerDisplay(await searchParams);
  const published = publishedStudy(view, display);
  const mine = actor === undefined ? undefined : await readStudy(registry(), actor, slug);
  const figures = view.counts.counted > 0 ? (published?.contrasts ?? []).map(({ figure }) => figure) : [];
  return (
    <>
      <PageHeader
        title="Publish this study"
        lead={view.question}
        breadcrumbs={[
          { label: 'Studies', href: '/studies' },
          { label: 'Study', href: `/studies/${slug}` },
          { label: 'Publish' },
        ]}
      />
      {view.world === 'demo' ? <DemoMark /> : null}
      {view.state === 'complete' ? null : (
        <Notice kind="info" title="This study is not complete: what is taken from here says so.">
          <p>Figures and texts at these addresses follow the study; files that were saved do not.</p>
        </Notice>
      )}
      {published === undefined ? (
        <Notice kind="problem" title="The plan of this study can no longer be read." />
      ) : (
        <PackWords
          text={studyVideoText(view, published, display)}
          citation={citationOfStudy(view, display, await snapshotToCite(registry(), view.world))}
        />
      )}
      <VideoTimes view={view} mine={mine} />
      <PackEmbed
        found={(published?.contrasts ?? []).map((one) => ({
          ...studyEmbed(view, one, display, one.setup.slug),
          name: one.setup.title,
        }))}
      />
      {figures.length > 0 ? (
        <PackFigures figures={figures} />
      ) : (
        <EmptyState title="There is no figure yet.">It appears when runs of the study count.</EmptyState>
      )}
      <Section id="numbers" title="Numbers">
        <p className="max-w-[46rem]">
          <a className="link" href={`/studies/${slug}/numbers.csv`} download>
            Every run of the study (CSV)
          </a>
          , with its place in the order, air and wind. How they are made stands under{' '}
          <Link className="link" href="/method">
            Method
          </Link>
          .
        </p>
      </Section>
      <SafetyCaution kind="study" />
    </>
  );
}

/** The lists that stand under the testers' videos, and whoever drove says where their runs begin. */
function VideoTimes({ view, mine }: { view: StudyView; mine: StudyView | undefined }) {
  const lists = videoLists(view);
  const runs = mine?.mine.drives ? namedRuns(mine).filter(({ run }) => run.isMine) : [];
  if (lists.length === 0 && runs.length === 0) return null;
  return (
    <Section
      id="times"
      title="Where each run begins"
      note="Under a video, as a list from 0:00 on: whoever watches can go to a run, and look it up by its number."
    >
      {lists.map(({ tester, text }) => (
        <CopyText
          key={tester.slug}
          label={`List for the video of ${tester.displayName}`}
          text={text}
          rows={Math.min(16, text.split('\n').length + 1)}
        />
      ))}
      {runs.length > 0 ? (
        <TimesForm
          studyId={view.id}
          runs={runs.map(({ run, words }) => ({
            name: `${VIDEO_FIELD}${run.number}`,
            words,
            shown: run.videoAtS === null ? '' : showVideoTime(run.videoAtS),
          }))}
        />
      ) : null}
    </Section>
  );
}
