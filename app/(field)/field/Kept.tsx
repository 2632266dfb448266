import { Button } from '@/app/ui/Button';
import { Sign } from '@/app/ui/Sign';
import type { FieldDay } from './fieldDay';
import { dayKeptWords, dayState, type Kept, keptState, keptWords } from './sendPlan';
import type { Field, KeptRun } from './useField';

/** Always in sight, in the bar: is it on this phone only, or has it been sent? */
export function KeptWords({ kept: { run, photos } }: { kept: KeptRun }) {
  return <StateWords state={keptState(run, photos)} words={keptWords(run, photos)} />;
}

/** The same of a day. */
export function DayKeptWords({ day }: { day: FieldDay }) {
  return <StateWords state={dayState(day)} words={dayKeptWords(day)} />;
}

function StateWords({ state, words }: { state: Kept; words: string }) {
  return (
    <p role="status" className="flex min-w-0 flex-1 items-center gap-2 text-xs leading-tight font-semibold">
      <Sign
        kind={state === 'sent' ? 'pass' : state === 'refused' || state === 'conflict' ? 'fail' : 'note'}
        className="size-4 shrink-0"
      />
      <span className="line-clamp-3">{words}</span>
    </p>
  );
}

/** What the one row of the bar has no room for: why something was not taken, and sending by hand. */
export function KeptNote({ kept: { run, photos }, field }: { kept: KeptRun; field: Field }) {
  const reasons = [run.refusal?.message, ...photos.map((photo) => photo.refusal)];
  return <StateNote state={keptState(run, photos)} reasons={reasons} onSend={field.send} />;
}

/** The same of a day. */
export function DayKeptNote({ day, field }: { day: FieldDay; field: Field }) {
  return <StateNote state={dayState(day)} reasons={[day.refusal?.message]} onSend={field.send} />;
}

interface StateNoteProps {
  state: Kept;
  reasons: readonly (string | undefined)[];
  onSend: () => void;
}

function StateNote({ state, reasons, onSend }: StateNoteProps) {
  if (state === 'refused') {
    return <p className="mt-6 text-sm">{reasons.filter((reason) => reason !== undefined).join(' ')}</p>;
  }
  if (state !== 'kept') return null;
  return (
    <div className="mt-6 flex flex-wrap items-center justify-between gap-3 text-sm text-ink-soft">
      <p>It is sent by itself as soon as there is a signal.</p>
      <Button className="min-h-12" onClick={onSend}>
        Send now
      </Button>
    </div>
  );
}
