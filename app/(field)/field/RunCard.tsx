import { useEffect, useMemo, useState } from 'react';
import { CrossChecks } from '@/app/(tester)/record/[runId]/CrossChecks';
import { liveChecks } from '@/app/(tester)/record/[runId]/liveChecks';
import { dayLine } from '@/app/(tester)/record/dayLine';
import { Button } from '@/app/ui/Button';
import { LinkButton } from '@/app/ui/LinkButton';
import { Notice } from '@/app/ui/Notice';
import { displayOfBrowser } from '@/app/visitor/displayCookieText';
import { CARD_STEPS, cardStep, stepBeside } from '@/lib/run/fields/cardSteps';
import type { CardStep } from '@/lib/run/fields/entry';
import { titlesInWords } from '@/lib/run/fields/fieldWords';
import { Clock } from './Clock';
import { ConflictChoice } from './ConflictChoice';
import { dayAddress } from './DayCard';
import { FieldPhotos } from './FieldPhotos';
import { FootBar } from './FootBar';
import { KeptNote, KeptWords } from './Kept';
import { conflictSettled } from './keptForm';
import { StepFields } from './StepFields';
import { StepHeading } from './StepHeading';
import { SubjectFields } from './SubjectFields';
import { keptState } from './sendPlan';
import type { Field, KeptRun } from './useField';

interface RunCardProps {
  field: Field;
  kept: KeptRun;
  /** Another run or day, or the list of all by an empty key. */
  onOpen: (key: string) => void;
}

/** One run, one step at a time. */
export function RunCard({ field, kept, onOpen }: RunCardProps) {
  const { run } = kept;
  const day = field.days.find(({ key }) => key === run.dayKey);
  const onClose = () => onOpen(day === undefined ? '' : dayAddress(day.key));
  const closeWords = day === undefined ? 'All runs' : 'The day';
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
      {run.conflict ? (
        <ConflictChoice
          kept={run}
          lists={field.lists}
          onSettle={(choices) => field.change(run.key, (now) => conflictSettled(now, choices))}
        />
      ) : null}
      {day?.conflict ? (
        <Notice
          kind="problem"
          title="The day was changed here and elsewhere. Its runs wait for your choice."
          live
        >
          <Button size="field" onClick={() => onOpen(dayAddress(day.key))}>
            To the day
          </Button>
        </Notice>
      ) : null}
      {run.taken?.length ? (
        <Notice kind="info" title={`Taken over from elsewhere: ${titlesInWords(run.taken)}.`} live />
      ) : null}
      <StepHeading current={step.key} />
      <Clock run={run} field={field} />
      <div className="mt-4 space-y-7">
        {run.step === 'before' ? (
          <>
            {day && field.lists ? (
              <p className="text-sm text-ink-soft">
                {dayLine(field.lists, run.form)}. What is the same all day is said once, on the page of the
                day.
              </p>
            ) : null}
            <SubjectFields
              form={run.form}
              lists={field.lists}
              asks={day === undefined ? 'all' : 'setup'}
              onChange={(change) => field.change(run.key, (now) => ({ ...now, form: change(now.form) }))}
            />
          </>
        ) : null}
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
      <FootBar>
        <Button className="min-h-12" onClick={() => (before ? go(before) : onClose())}>
          {before ? 'Back' : closeWords}
        </Button>
        <KeptWords kept={kept} />
        {after ? (
          <Button className="min-h-12" variant="primary" onClick={() => go(after)}>
            Next
          </Button>
        ) : (
          <Button className="min-h-12" onClick={onClose}>
            {closeWords}
          </Button>
        )}
      </FootBar>
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
