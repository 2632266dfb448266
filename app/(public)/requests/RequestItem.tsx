import { Link } from '@/app/ui/Link';
import type { RequestRow } from '@/lib/registry/requests/requestRow';
import { REQUEST_STATE_LABELS } from '@/lib/study/requestState';
import { STUDY_STATE_LABELS } from '@/lib/study/studyState';
import { VoiceButton } from './RequestForms';

/** A request in a list: the question, what it holds against what, its voices, and the study that drives it. */
export function RequestItem({ request }: { request: RequestRow }) {
  const { mine } = request;
  return (
    <div className="max-w-[46rem] border-l-2 border-rule-strong pl-4">
      <p className="font-semibold">
        <Link className="link" href={`/requests/${request.id}`}>
          {request.question}
        </Link>
      </p>
      <p className="mt-1 text-sm text-ink-soft">
        {REQUEST_STATE_LABELS[request.state]}. {request.model}, {request.classLabel}. {request.words}. Asked
        by {request.by.displayName}.
      </p>
      <div className="mt-1 flex flex-wrap items-center gap-x-5 gap-y-2">
        <span className="tabular-nums">{voicesText(request.voices)}</span>
        {mine.mayBack ? <VoiceButton requestId={request.id} backs={mine.backs} /> : null}
        {mine.mayTake ? (
          <Link className="link inline-flex min-h-6 items-center" href={`/studies/new?request=${request.id}`}>
            Plan a study of it
          </Link>
        ) : null}
      </div>
      <StudiesOf request={request} />
    </div>
  );
}

export function StudiesOf({ request }: { request: Pick<RequestRow, 'studies'> }) {
  return (
    <>
      {request.studies.map(({ slug, question, state }) => (
        <p key={slug} className="mt-1 text-sm">
          {STUDY_STATE_LABELS[state]}:{' '}
          <Link className="link" href={`/studies/${slug}`}>
            {question}
          </Link>
        </p>
      ))}
    </>
  );
}

export function voicesText(voices: number): string {
  return voices === 1 ? '1 vote' : `${voices} votes`;
}
