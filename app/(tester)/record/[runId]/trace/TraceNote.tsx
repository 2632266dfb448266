import { Link } from '@/app/ui/Link';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { draftTrace } from '@/lib/registry/traces/draftTrace';

/** The way from the form to its recording. */
export async function TraceNote({ runId }: { runId: string }) {
  const { trace } = await draftTrace(registry(), await signedIn(), runId);
  return (
    <p className="my-5 max-w-[46rem]">
      {trace
        ? 'A recording is with this run: its own speed goes into the result. '
        : 'Have a track by satellite positioning? It can fill in speed, times and turnaround. '}
      <Link className="link" href={`/record/${runId}/trace`}>
        {trace ? 'See the recording and what it knows' : 'Send a recording'}
      </Link>
    </p>
  );
}
