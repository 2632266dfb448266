import { useEffect, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { clockStarted, clockStopped, clockWords, elapsedMs, type FieldRun } from './fieldRun';
import type { Field } from './useField';
import { useScreenOn } from './useScreenOn';

/** The run's clock: counts from a kept instant, so a reload or a locked phone does not stop it. */
export function Clock({ run, field }: { run: FieldRun; field: Field }) {
  const isRunning = run.startedAtMs !== undefined && run.finishedAtMs === undefined;
  const nowMs = useSeconds(isRunning);
  const elapsed = elapsedMs(run, nowMs);
  useScreenOn(isRunning);
  const start = () => field.change(run.key, (now) => clockStarted(now, new Date()));
  const stop = () => field.change(run.key, (now) => clockStopped(now, Date.now()));
  return (
    <div className="mt-3 space-y-3">
      {elapsed === undefined ? null : (
        <p className="num text-3xl">
          <span className="sr-only">Time since the start: </span>
          {clockWords(elapsed)}
        </p>
      )}
      {run.step === 'start' ? (
        <Button size="field" variant="primary" onClick={start}>
          {run.startedAtMs === undefined ? 'Start the run now' : 'Start the clock again'}
        </Button>
      ) : null}
      {run.step === 'finish' && isRunning ? (
        <Button size="field" variant="primary" onClick={stop}>
          Stop the clock
        </Button>
      ) : null}
    </div>
  );
}

/** The time of now, once a second while it is wanted. */
function useSeconds(isWanted: boolean): number {
  const [nowMs, setNowMs] = useState(() => Date.now());
  useEffect(() => {
    setNowMs(Date.now());
    if (!isWanted) return;
    const timer = setInterval(() => setNowMs(Date.now()), 1000);
    return () => clearInterval(timer);
  }, [isWanted]);
  return nowMs;
}
