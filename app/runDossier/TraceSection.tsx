import { Section } from '@/app/ui/Section';
import { signedIn } from '@/app/visitor/actor';
import { registry } from '@/app/visitor/registry';
import { readRunTrace } from '@/lib/registry/traces/runTrace';
import type { Display } from '@/lib/units/display';
import type { RunOfFigure } from './runSource';
import { TraceFacts } from './TraceFacts';
import { TracePlots } from './TracePlots';
import { TraceTables } from './TraceTables';

/** The run's own recording, where it has one. */
export async function TraceSection({
  run,
  display,
}: {
  run: RunOfFigure & { runId: string };
  display: Display;
}) {
  const trace = await readRunTrace(registry(), await signedIn(), run);
  return trace === undefined ? null : <Recording trace={trace} run={run} display={display} />;
}

type ShownTrace = NonNullable<Awaited<ReturnType<typeof readRunTrace>>>;

/** A recording that was read. */
export function Recording({
  trace,
  run,
  display,
}: {
  trace: ShownTrace;
  run: RunOfFigure;
  display: Display;
}) {
  if (trace === 'unreadable') {
    return (
      <Section id="recording" title="Recording">
        <p className="max-w-[38rem] text-ink-soft">
          There is a recording, but what was kept of it can no longer be read.
        </p>
      </Section>
    );
  }
  return (
    <Section
      id="recording"
      title="Recording"
      note="From satellite fixes. The track is shown without its ends, and without saying where on earth it lies."
      wide
    >
      <TraceFacts trace={trace} display={display} />
      <TracePlots trace={trace} of={run} display={display} />
      <TraceTables trace={trace} display={display} />
      {trace.fileOfRunId ? (
        <p className="text-sm">
          <a className="link" href={`/api/runs/${trace.fileOfRunId}/trace`} download>
            Fetch the recording as it was sent
          </a>{' '}
          <span className="text-ink-soft">
            For the run’s tester and reviewers only: it holds the full track.
          </span>
        </p>
      ) : null}
    </Section>
  );
}
