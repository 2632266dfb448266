import { useEffect, useMemo, useState } from 'react';
import { CrossChecks } from '@/app/(tester)/record/[runId]/CrossChecks';
import { liveChecks } from '@/app/(tester)/record/[runId]/liveChecks';
import { Button } from '@/app/ui/Button';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { displayOfBrowser } from '@/app/visitor/displayCookieText';
import { CARD_STEPS, cardStep, stepBeside } from '@/lib/run/fields/cardSteps';
import type { CardStep } from '@/lib/run/fields/entry';
import { titlesInWords } from '@/lib/run/fields/fieldWords';
import { Clock } from './Clock';
import { ConflictChoice } from './ConflictChoice';
import { FieldPhotos } from './FieldPhotos';
import { KeptNote, KeptWords } from './Kept';
import { StepFields } from './StepFields';
import { StepHeading } from './StepHeading';
import { SubjectFields } from './SubjectFields';
import { keptState } from './sendPlan';
import type { Field, KeptRun } from './useField';

interface RunCardProps {
  field: Field;
  kept: KeptRun;
  onClose: () => void;
}

/** One run, one step at a time. */
export function RunCard({ field, kept, onClose }: RunCardProps) {
  const { run } = kept;
  const step = cardStep(run.step);
  const capacityWh = field.lists?.cars.find(({ id }) => id === run.form.carId)?.usableCapacityWh;
  useFieldInSight();
  const settled = useSettled(run.form);
  const checks = useMemo(
    () => liveChecks(settled.form, settled.now, displayOfBrowser(document.cookie), capacityWh),
    [settled, capacityWh],
  );
  const go = (to: CardStep) => {
    field.change(run.key, ({ taken: _told, ...now }) => ({ ...now, step: to }));
  };
  const before = stepBeside(run.step, -1);
  const after = stepBeside(run.step, 1);
  return (
    <>
      <StepTabs current={run.step} onGo={go} />
      {run.conflict ? <ConflictChoice field={field} run={run} /> : null}
      {run.taken?.length ? (
        <Notice kind="info" title={`Taken over from elsewhere: ${titlesInWords(run.taken)}.`} live />
      ) : null}
      <StepHeading current={step.key} />
      <Clock run={run} field={field} />
      <div className="mt-4 space-y-7">
        {run.step === 'before' ? <SubjectFields run={run} field={field} /> : null}
        <StepFields
          key={step.key}
          step={step}
          run={run}
          field={field}
          remarks={checks.remarks}
          photos={<FieldPhotos step={step} kept={kept} field={field} />}
        />
      </div>
      {run.step === 'finish' || run.step === 'pluggedIn' ? <CrossChecks checks={checks} /> : null}
      {run.step === 'pluggedIn' ? <Remaining kept={kept} /> : null}
      <KeptNote kept={kept} field={field} />
      <div
        data-foot-bar
        className="sticky bottom-0 z-10 mt-6 -mx-4 flex h-14 items-center gap-3 border-t border-rule-strong bg-paper px-4"
      >
        <Button className="min-h-12" onClick={() => (before ? go(before) : onClose())}>
          {before ? 'Back' : 'All runs'}
        </Button>
        <KeptWords kept={kept} />
        {after ? (
          <Button className="min-h-12" variant="primary" onClick={() => go(after)}>
            Next
          </Button>
        ) : (
          <Button className="min-h-12" onClick={onClose}>
            All runs
          </Button>
        )}
      </div>
    </>
  );
}

/** A tap on a field that is half under the bar, or behind the keyboard, brings the whole of it into sight. */
function useFieldInSight(): void {
  useEffect(() => {
    const show = ({ target }: Event) => {
      if (target instanceof Element && target.matches('input, select')) {
        target.scrollIntoView({ block: 'nearest' });
      }
    };
    document.addEventListener('focusin', show);
    return () => document.removeEventListener('focusin', show);
  }, []);
}

function StepTabs({ current, onGo }: { current: CardStep; onGo: (step: CardStep) => void }) {
  return (
    <nav aria-label="Steps of the run">
      <ol className="flex border border-rule-strong">
        {CARD_STEPS.map((step, index) => (
          <li key={step.key} className="min-w-0 flex-1 border-l border-rule first:border-l-0">
            <button
              type="button"
              aria-current={step.key === current ? 'step' : undefined}
              onClick={() => onGo(step.key)}
              className="flex min-h-14 w-full flex-col items-center justify-center px-0.5 text-xs leading-tight aria-[current=step]:bg-ink aria-[current=step]:font-semibold aria-[current=step]:text-paper"
            >
              <span className="num text-base">{index + 1}</span>
              {step.label}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}

/** What is left for later, at a desk or right away. */
function Remaining({ kept: { run, photos } }: { kept: KeptRun }) {
  const isSent = keptState(run, photos) === 'sent';
  return (
    <Notice
      kind={isSent ? 'done' : 'info'}
      title={isSent ? 'All of it is sent.' : 'Weather and submission come later.'}
    >
      <p>Add the weather and what is still missing, then submit the run for review.</p>
      {isSent && run.server ? (
        <LinkButton href={`/record/${run.server.runId}`} size="field" variant="primary">
          Complete and submit
        </LinkButton>
      ) : (
        <p>That page opens when the run has been sent.</p>
      )}
    </Notice>
  );
}

/** What was typed, once typing has paused: half a number is not remarked on. */
function useSettled(form: Record<string, string>) {
  const [settled, setSettled] = useState({ form, now: new Date(0).toISOString() });
  useEffect(() => {
    const timer = setTimeout(() => setSettled({ form, now: new Date().toISOString() }), 400);
    return () => clearTimeout(timer);
  }, [form]);
  return settled;
}
