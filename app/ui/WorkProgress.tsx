import type { WorkProgress as Progress } from '@/lib/registry/work/progress';
import { Notice } from './Notice';
import { RefreshWhile } from './RefreshWhile';

interface WorkProgressProps {
  progress: Progress | null;
  /** What is counted: "runs computed". */
  words: string;
  /** What is done meanwhile: "The runs are being computed." */
  title: string;
}

/** Where scripts do not run, the page is read anew by the browser itself. */
const WITHOUT_SCRIPTS_S = 10;

/**
 * How far the background is, in counts; the page is read anew by itself until it has finished. Who listens is told at each
 * quarter only: a count that changes every second would talk over everything else.
 */
export function WorkProgress({ progress, words, title }: WorkProgressProps) {
  if (progress === null || progress.state === 'done') return null;
  if (progress.state === 'failed') {
    return (
      <Notice kind="problem" title="The background met an error and stopped.">
        <p>{progress.error}</p>
      </Notice>
    );
  }
  const { done, of } = progress;
  const quarter = done === null || !of ? 0 : Math.floor((4 * done) / of);
  return (
    <div className="my-6 max-w-[46rem]">
      <p className="font-semibold">{title}</p>
      <progress
        {...(done === null || !of ? {} : { value: done, max: of })}
        aria-label={words}
        className="mt-2 h-3 w-full accent-accent"
      />
      <p aria-hidden="true" className="num mt-2 text-sm">
        {countsText(progress, words)} This page may be closed; the work goes on.
      </p>
      <p role="status" className="sr-only">
        {progress.state === 'waiting' ? 'Waiting to begin.' : `${title} ${quarter * 25} % done.`}
      </p>
      <RefreshWhile />
      <noscript>
        <meta httpEquiv="refresh" content={String(WITHOUT_SCRIPTS_S)} />
      </noscript>
    </div>
  );
}

function countsText({ state, done, of }: Progress, words: string): string {
  if (state === 'waiting') return 'It waits for other work to end.';
  if (done === null) return 'It has begun.';
  return of === null ? `${done} ${words}.` : `${done} of ${of} ${words}.`;
}
