import { Button } from '@/app/ui/Button';
import { Sign } from '@/app/ui/Sign';
import { keptState, keptWords } from './sendPlan';
import type { Field, KeptRun } from './useField';

/** Always in sight, in the bar: is it on this phone only, or has it been sent? */
export function KeptWords({ kept: { run, photos } }: { kept: KeptRun }) {
  const state = keptState(run, photos);
  return (
    <p role="status" className="flex min-w-0 flex-1 items-center gap-2 text-xs leading-tight font-semibold">
      <Sign
        kind={state === 'sent' ? 'pass' : state === 'refused' || state === 'conflict' ? 'fail' : 'note'}
        className="size-4 shrink-0"
      />
      <span className="line-clamp-3">{keptWords(run, photos)}</span>
    </p>
  );
}

/** What the one row of the bar has no room for: why something was not taken, and sending by hand. */
export function KeptNote({ kept: { run, photos }, field }: { kept: KeptRun; field: Field }) {
  const state = keptState(run, photos);
  if (state === 'refused') {
    const reasons = [run.refusal?.message, ...photos.map((photo) => photo.refusal)];
    return <p className="mt-6 text-sm">{reasons.filter((reason) => reason !== undefined).join(' ')}</p>;
  }
  if (state !== 'kept') return null;
  return (
    <div className="mt-6 flex flex-wrap items-center justify-between gap-3 text-sm text-ink-soft">
      <p>It is sent by itself as soon as there is a signal.</p>
      <Button className="min-h-12" onClick={field.send}>
        Send now
      </Button>
    </div>
  );
}
