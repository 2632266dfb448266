import { Button } from '@/app/ui/Button';
import { LinkButton } from '@/app/ui/LinkButton';
import { cardStep } from '@/lib/run/fields/cardSteps';
import type { FieldRun } from './fieldRun';
import { keptState, keptWords, mayWipe } from './sendPlan';
import type { Field, KeptRun } from './useField';

interface RunLineProps {
  kept: KeptRun;
  field: Field;
  onOpen: (key: string) => void;
}

/** A run among others: where it is, and what can be done with it once it is sent. */
export function RunLine({ kept, field, onOpen }: RunLineProps) {
  const { run, photos } = kept;
  const isDone = keptState(run, photos) === 'sent';
  return (
    <li className="border border-rule-strong bg-sheet">
      <button
        type="button"
        onClick={() => onOpen(run.key)}
        className="block min-h-14 w-full px-4 py-3 text-left text-lg"
      >
        <span className="block font-semibold">{runWords(run, field)}</span>
        <span className="block text-sm text-ink-soft">
          {cardStep(run.step).label} · {keptWords(run, photos)}
        </span>
      </button>
      {mayWipe(run, photos) ? (
        <div className="flex gap-3 border-t border-rule px-2 py-1">
          {isDone && run.server ? (
            <LinkButton href={`/record/${run.server.runId}`} variant="quiet">
              Complete and submit
            </LinkButton>
          ) : null}
          <Button
            variant="quiet"
            onClick={() => {
              void field.wipe(run.key);
              document.getElementById('main')?.focus();
            }}
          >
            Remove from this phone
          </Button>
        </div>
      ) : null}
    </li>
  );
}

function runWords(run: FieldRun, field: Field): string {
  const car = field.lists?.cars.find(({ id }) => id === run.form.carId)?.name ?? 'No car chosen';
  const start = run.form.startedAtLocal?.replace('T', ' ') ?? 'not started';
  return `${car}, ${start}`;
}
