import { randomUUID } from 'node:crypto';
import { Link } from '@/app/ui/Link';
import type { NextOfStudy } from '@/lib/registry/studies/beginPlannedRun';
import { nextToDrive, planWords, setupWords } from '@/lib/study/nextToDrive';
import { BeginPlanned } from './BeginPlanned';

/** What the plan of a study has next today, and the button that begins it. */
export function NextInStudy({
  next: { study, here },
  isPreview = false,
}: {
  next: NextOfStudy;
  /** It stands on the preview itself. */
  isPreview?: boolean;
}) {
  if (here === null) {
    return (
      <p className="max-w-[46rem]">
        You have no car of this model in use any more.{' '}
        <Link className="link" href="/my/cars">
          Add one
        </Link>{' '}
        to go on.
      </p>
    );
  }
  const next = nextToDrive(study, { ...here, runs: [] });
  return (
    <>
      <p className="max-w-[46rem]">{planWords(study, next)}</p>
      {next.setupId === null ? null : (
        <BeginPlanned
          studyId={study.studyId}
          creationKey={randomUUID()}
          words={`Begin run ${next.driven.length + 1}: ${setupWords(study, next.setupId)}`}
        />
      )}
      {isPreview ? null : (
        <p className="mt-2 text-sm">
          <Link className="link inline-flex min-h-6 items-center" href={`/studies/${study.slug}/preview`}>
            What it says so far, with your runs that wait
          </Link>
        </p>
      )}
    </>
  );
}
