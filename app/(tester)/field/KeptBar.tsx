import { Button } from '@/app/ui/Button';
import { Sign } from '@/app/ui/Sign';
import { keptState, keptWords } from './sendPlan';
import type { Field, KeptRun } from './useField';

/** Always in sight: is it on this phone only, or has it been sent? */
export function KeptBar({ kept: { run, photos }, field }: { kept: KeptRun; field: Field }) {
  const state = keptState(run, photos);
  const reasons = [run.refusal?.message, ...photos.map((photo) => photo.refusal)].filter(
    (reason) => reason !== undefined,
  );
  return (
    <div className="flex min-h-12 items-center justify-between gap-3">
      <p role="status" className="flex gap-2 text-sm font-semibold">
        <Sign
          kind={state === 'sent' ? 'pass' : state === 'refused' || state === 'conflict' ? 'fail' : 'note'}
          className="mt-0.5 size-4 shrink-0"
        />
        <span>
          {keptWords(run, photos)}
          {state === 'refused' ? <span className="block font-normal">{reasons.join(' ')}</span> : null}
          {state === 'kept' && field.round === 'offline' ? (
            <span className="block font-normal text-ink-soft">
              No connection. It is tried again by itself.
            </span>
          ) : null}
        </span>
      </p>
      {state === 'kept' ? (
        <Button className="min-h-12" onClick={field.send}>
          Send now
        </Button>
      ) : null}
    </div>
  );
}
