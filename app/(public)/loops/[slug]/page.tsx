import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { cache } from 'react';
import { CurateLink } from '@/app/account/CurateLink';
import { DemoMark } from '@/app/ui/DemoMark';
import { HiddenNote } from '@/app/ui/HiddenNote';
import { LinkButton } from '@/app/ui/LinkButton';
import { PageHeader } from '@/app/ui/PageHeader';
import { pageMetadata } from '@/app/ui/pageMetadata';
import { ReportLink } from '@/app/ui/ReportLink';
import { Section } from '@/app/ui/Section';
import { UnitNote } from '@/app/ui/UnitNote';
import { signedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { leadOn } from '@/app/visitor/movedAddress';
import { registry } from '@/app/visitor/registry';
import { mayCorrectLoop } from '@/lib/registry/loops/correctLoop';
import { readLoop } from '@/lib/registry/loops/loop';
import { RunPages } from '../../RunPages';
import { one, ownUnitHref, type SearchParams } from '../../rankings/query';
import { Consensus } from './Consensus';
import { Directions } from './Directions';
import { Elevation } from './Elevation';
import { LoopFacts, Repeatability } from './LoopFacts';
import { loopSentence } from './loopSentence';
import { Route } from './Route';

export const dynamic = 'force-dynamic';

interface LoopPageProps {
  params: Promise<{ slug: string }>;
  searchParams: Promise<SearchParams>;
}

/** Read once for the title and the page. */
const loopOf = cache((slug: string, from: string | undefined) => readLoop(registry(), slug, from));

export async function generateMetadata({ params, searchParams }: LoopPageProps): Promise<Metadata> {
  const loop = await loopOf((await params).slug, one(await searchParams, 'from'));
  if (loop === undefined) return { title: 'Loop not found' };
  return pageMetadata('loops', {
    title: loop.name,
    path: `/loops/${loop.slug}`,
    figure: { kind: 'route', key: loop.slug },
    hasFeed: true,
  });
}

export default async function LoopPage({ params, searchParams }: LoopPageProps) {
  const query = await searchParams;
  const loop = await loopOf((await params).slug, one(query, 'from'));
  if (loop === undefined) {
    await leadOn('loop', (await params).slug, '', query);
    notFound();
  }
  const display = await readerDisplay(query);
  return (
    <>
      <PageHeader
        title={loop.name}
        lead={loop.description || undefined}
        breadcrumbs={[{ label: 'Loops', href: '/loops' }, { label: loop.name }]}
        meta={loop.region}
        actions={
          (await mayCorrectLoop(registry(), await signedIn(), loop.slug)) ? (
            <LinkButton href={`/loops/${loop.slug}/correct`}>Correct a value</LinkButton>
          ) : undefined
        }
      />
      {loop.world === 'demo' ? <DemoMark /> : null}
      <HiddenNote what="loop" reason={loop.hiddenReason} />
      <p className="mb-6 max-w-[46rem] font-serif text-xl leading-snug">{loopSentence(loop, display)}</p>
      <Route display={display} loop={loop} />
      <Repeatability display={display} loop={loop} />
      <Elevation display={display} loop={loop} />
      <Directions display={display} loop={loop} />
      <Section id="runs" title="Approved runs on it" wide>
        <UnitNote unit={display.consumption} ownHref={ownUnitHref(`/loops/${loop.slug}`, query, 'runs')} />
        <RunPages
          page={loop.runs}
          path={`/loops/${loop.slug}`}
          query={query}
          sectionId="runs"
          display={display}
          without={['loop']}
        />
      </Section>
      <LoopFacts display={display} loop={loop} />
      <Consensus display={display} slug={loop.slug} />
      <CurateLink kind="loop" of={loop.slug} />
      <ReportLink kind="loop" of={loop.slug} />
    </>
  );
}
