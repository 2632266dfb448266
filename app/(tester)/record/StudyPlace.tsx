import { Link } from '@/app/ui/Link';
import type { StudyToDrive } from '@/lib/study/nextToDrive';

/** Which study the runs on a page belong to once they are sent in, and where they stand in its plan. */
export function StudyPlace({ study, words }: { study: StudyToDrive; words: string }) {
  return (
    <p className="my-4 max-w-[46rem] border-l-4 border-accent pl-3 text-sm">
      <Link className="link" href={`/studies/${study.slug}`}>
        {study.question}
      </Link>{' '}
      {words} It belongs to the study as soon as it is sent in, whatever it says.{' '}
      <Link className="link" href={`/studies/${study.slug}/preview`}>
        What it says so far
      </Link>
    </p>
  );
}
