import { dayLine } from '@/app/(tester)/record/dayLine';
import { Button } from '@/app/ui/Button';
import { countText } from '@/app/ui/countText';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { dayWords } from '@/lib/run/localDate';
import { AccountPanel } from './AccountPanel';
import { dayAddress } from './DayCard';
import { PlannedRuns } from './PlannedRuns';
import { RunLine } from './RunLine';
import { dayKeptWords } from './sendPlan';
import type { Field } from './useField';

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
          <Days field={field} onOpen={onOpen} />
          <Button size="field" onClick={begin}>
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

/** The days that the phone keeps, and a new one: what their runs share is said once. */
function Days({ field, onOpen }: FieldHomeProps) {
  const begin = async () => {
    const day = await field.beginDay();
    if (day !== undefined) onOpen(dayAddress(day.key));
  };
  const { lists, days, runs } = field;
  // What the phone does not know of, it does not count.
  const runsHere = (key: string) => {
    const count = runs.filter(({ run }) => run.dayKey === key).length;
    return count > 0 && countText({ runs: count });
  };
  return (
    <div className="mb-3 space-y-3">
      {days.map((day) => (
        <button
          key={day.key}
          type="button"
          onClick={() => onOpen(dayAddress(day.key))}
          className="block min-h-14 w-full border border-rule-strong bg-sheet px-4 py-3 text-left text-lg"
        >
          <span className="block font-semibold">{dayWords(day.localDate)}</span>
          <span className="block text-sm text-ink-soft">
            {[lists && dayLine(lists, day.form), runsHere(day.key), dayKeptWords(day)]
              .filter(Boolean)
              .join(' · ')}
          </span>
        </button>
      ))}
      <Button variant="primary" size="field" onClick={begin}>
        New day of runs
      </Button>
    </div>
  );
}
