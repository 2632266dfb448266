import type { Metadata } from 'next';
import { notFound } from 'next/navigation';
import { hrefWith, one, type SearchParams } from '@/app/(public)/rankings/query';
import { runNumber } from '@/app/runDossier/runNumber';
import { requireSignedIn } from '@/app/visitor/actor';
import { readerDisplay } from '@/app/visitor/display';
import { noteRefusal } from '@/app/visitor/noteRefusal';
import { problemOf } from '@/app/visitor/problem';
import { registry } from '@/app/visitor/registry';
import { type ReviewView, readReview } from '@/lib/registry/review/review';
import { DecidedNotice } from '../../DecidedNotice';
import { Refused } from '../../Refused';
import { ReviewDesk } from './ReviewDesk';

export const dynamic = 'force-dynamic';

interface ReviewPageProps {
  params: Promise<{ number: string }>;
  searchParams: Promise<SearchParams>;
}

export async function generateMetadata({ params }: ReviewPageProps): Promise<Metadata> {
  return { title: `Review of run ${runNumber((await params).number) ?? ''}` };
}

export default async function ReviewPage({ params, searchParams }: ReviewPageProps) {
  const number = runNumber((await params).number);
  if (number === undefined) notFound();
  const query = await searchParams;
  const actor = await requireSignedIn(`/review/${number}`);
  let view: ReviewView;
  try {
    view = await readReview(registry(), actor, number, one(query, 'log'));
  } catch (error) {
    const problem = problemOf(error);
    if (problem.status === 404) notFound();
    await noteRefusal(error);
    return <Refused title={`Review of run ${number}`} problem={problem} />;
  }
  return (
    <ReviewDesk
      view={view}
      display={await readerDisplay(query)}
      logHref={(log) => `${hrefWith(`/review/${number}`, query, { log, decided: undefined })}#log`}
      notice={<DecidedNotice decided={one(query, 'decided')} next />}
    />
  );
}
