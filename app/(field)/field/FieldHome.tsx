import { Button } from '@/app/ui/Button';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { cardStep } from '@/lib/run/fields/cardSteps';
import { AccountPanel } from './AccountPanel';
import type { FieldRun } from './fieldRun';
import { PlannedRuns } from './PlannedRuns';
import { keptState, keptWords, mayWipe } from './sendPlan';
import type { Field, KeptRun } from './useField';

interface FieldHomeProps {
  field: Field;
  onOpen: (key: string) => void;
}

/** The runs of this account that the phone keeps, and a new one. */
export function FieldHome({ field, onOpen }: FieldHomeProps) {
  const { lists, runs } = field;
  const begin = async () => {
    const run = await field.begin();
    if (run !== undefined) onOpen(run.key);
  };
  return (
    <>
      {lists?.cars.length === 0 ? (
        <Notice kind="info" title="You have no car yet.">
          <p>A run is noted for one of your cars. Add it while you are online.</p>
          <LinkButton href="/my/cars">Add a car</LinkButton>
        </Notice>
      ) : (
        <>
          <PlannedRuns field={field} onOpen={onOpen} />
          <Button variant="primary" size="field" onClick={begin}>
            New run
          </Button>
        </>
      )}
      <h2 className="mt-8">Runs on this phone</h2>
      {runs.length === 0 ? <p className="mt-2 text-ink-soft">None yet.</p> : null}
      <ul className="mt-3 space-y-3">
        {runs.map((kept) => (
          <RunLine key={kept.run.key} kept={kept} field={field} onOpen={onOpen} />
        ))}
      </ul>
      <p role="status" className="mt-8 text-sm text-ink-soft">
        {field.isShellKept
          ? 'This page opens without a signal too.'
          : 'Getting ready for use without a signal…'}
      </p>
      <AccountPanel field={field} />
      <p className="mt-6 pb-10">
        <a href="/" className="link inline-flex min-h-12 items-center">
          To the registry
        </a>
      </p>
    </>
  );
}

function RunLine({ kept, field, onOpen }: FieldHomeProps & { kept: KeptRun }) {
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
