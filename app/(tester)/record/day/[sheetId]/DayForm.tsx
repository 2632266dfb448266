'use client';

import {
  type SubmitEvent,
  startTransition,
  useActionState,
  useEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import { ErrorSummary } from '@/app/ui/forms/ErrorSummary';
import { summaryOf } from '@/app/ui/forms/fieldErrors';
import { submitterOf } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import type { DaySheetView } from '@/lib/registry/sessionSheets/daySheet';
import { unitFieldName } from '@/lib/run/numberField';
import { offersFrom } from '@/lib/run/sessionSheet';
import { planWords } from '@/lib/study/nextToDrive';
import type { Display } from '@/lib/units/display';
import { CrossChecks } from '../../[runId]/CrossChecks';
import { DraftBar } from '../../[runId]/DraftBar';
import { DraftNotices } from '../../[runId]/DraftNotices';
import { heldSheet, putDraft } from '../../[runId]/sendDraft';
import { notSentYet } from '../../[runId]/sentRun';
import { takeUnits } from '../../[runId]/takeUnits';
import type { DraftPlace } from '../../[runId]/useAutosave';
import { useChoices } from '../../[runId]/useChoices';
import { useDraft } from '../../[runId]/useDraft';
import { useSettledChecks } from '../../[runId]/useSettledChecks';
import { dayLine } from '../../dayLine';
import { inFormOrder, runFormOf, standingIssues } from '../../formValues';
import { StudyPlace } from '../../StudyPlace';
import { sendDay } from './actions';
import { DayPart } from './DayPart';
import { DayTable } from './DayTable';
import { dayOfStudy, drivenRuns, NextRun } from './NextRun';
import { RunPart } from './RunPart';
import {
  dayName,
  fieldOfSheet,
  formNow,
  joinSheet,
  SHEET_NAMES,
  sheetIdOf,
  sheetIdOfPath,
  splitSheet,
  startingSheet,
} from './sheetForm';

/** A day's runs on one page: what they share once, then each with what changes. Saves itself where scripts run. */
export function DayForm({ view, display }: { view: DaySheetView; display: Display }) {
  const [sent, dispatch] = useActionState(sendDay, notSentYet(view.seen));
  const formRef = useRef<HTMLFormElement>(null);
  const [starting] = useState(() => sent.form ?? startingSheet(view));
  const [place] = useState(() => sheetPlace(view));
  const draft = useDraft(place, sent.draftVersion, starting, formRef, sent.torn);
  const choices = useChoices(draft, sent.missing, sheetIdOf);
  const { typed, save, hold, resume, reconcile } = draft;
  const now = useMemo(() => formNow(view, draft.values), [view, draft.values]);
  const checks = useSettledChecks(now, view, display);
  const { day, run } = splitSheet(draft.values);
  const driven = drivenRuns(view, now);
  const planned = dayOfStudy(view, driven, day);

  useEffect(() => {
    if (sent.title === '') return;
    if (!sent.wasElsewhere) return resume(sent.draftVersion);
    resume(undefined);
    void reconcile();
  }, [sent, resume, reconcile]);

  const at = view.runs.findIndex(({ runId }) => runId === view.open?.runId);
  const offers = offersFrom(view.runs[at - 1]?.form, run);
  const take = (form: HTMLFormElement, name: string) => {
    const offer = offers.find((one) => one.name === name);
    const text = form.elements.namedItem(name);
    const unit = form.elements.namedItem(unitFieldName(name));
    if (offer === undefined || !(text instanceof HTMLInputElement)) return;
    text.value = offer.text;
    if (unit instanceof HTMLSelectElement) unit.value = offer.unit;
    typed();
    text.focus();
  };

  const send = async (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const submitter = submitterOf(event.nativeEvent);
    const intent = submitter?.getAttribute('value') ?? 'save';
    if (intent.startsWith('take:')) return take(form, intent.slice('take:'.length));
    if (intent === 'settle') return choices.settle();
    const saved = await save();
    if (saved.status !== 'saved' || intent === 'save') return;
    if (intent === 'whole') return window.location.assign(`/record/${view.open?.runId}`);
    if (intent.startsWith('open:')) {
      return window.location.assign(`?run=${intent.slice('open:'.length)}#run`);
    }
    const data = new FormData(form, submitter);
    data.set('seenSheet', String(saved.version));
    // It was saved just now: what differs by the time it arrives was changed elsewhere.
    data.set('base', JSON.stringify(runFormOf(data, SHEET_NAMES)));
    hold();
    startTransition(() => dispatch(data));
  };

  const parts = {
    view,
    starting,
    day,
    issues: standingIssues(sent.issues, sent.form ? formNow(view, sent.form) : now, now),
    remarks: checks.remarks,
  };
  const onCar = (carId: string) => {
    const form = formRef.current;
    if (form === null) return;
    const units = view.cars.find(({ id }) => id === carId)?.units ?? {};
    takeUnits(form, units);
    takeUnits(form, units, dayName);
    typed();
  };
  return (
    <form
      ref={formRef}
      action={dispatch}
      noValidate
      aria-label="The day’s runs"
      // A field that is led to must not come to rest under the bar that sticks to the top, nor hide its label there.
      className="[&_[id]]:scroll-mt-40 [&_[role=alert]]:scroll-mt-20"
      onSubmit={send}
      onInput={typed}
    >
      <input type="hidden" name="sheetId" value={view.sheetId} />
      <input type="hidden" name="runId" value={view.open?.runId ?? ''} />
      <input type="hidden" name="seenSheet" value={draft.state.version} />
      <input
        type="hidden"
        name="base"
        value={JSON.stringify(sent.torn?.theirs ?? joinSheet(view.day, view.open?.part ?? {}))}
      />
      <DraftBar draft={draft} />
      <DraftNotices draft={draft} view={view} answers={choices} fieldOf={fieldOfSheet} />
      {sent.title && sent.issues.length === 0 ? <Notice kind="problem" title={sent.title} live /> : null}
      <ErrorSummary
        errors={useMemo(() => summaryOf(inFormOrder(sent.issues), sheetIdOfPath), [sent])}
        title={sent.title}
      />
      <p className="text-sm">{dayLine(view, day)}</p>
      {planned ? <StudyPlace study={planned.study} words={planWords(planned.study, planned.next)} /> : null}
      <DayPart parts={parts} onCar={onCar} />
      <section className="mt-8 border-t border-rule-strong pt-4" aria-labelledby="day-runs">
        <h2 id="day-runs" className="mb-3">
          Runs
        </h2>
        <DayTable view={view} now={now} />
      </section>
      <RunPart parts={parts} offers={offers} />
      {view.open ? <CrossChecks checks={checks} /> : null}
      <div className="mt-8 space-y-6 border-t border-rule-strong pt-4">
        <NextRun view={view} runs={driven} day={day} planned={planned} />
        <div className="flex flex-wrap items-center gap-4">
          <SubmitButton name="intent" value="submitAll" pendingText="Submitting…">
            Submit all complete runs for review
          </SubmitButton>
          {view.open ? (
            <SubmitButton name="intent" value="submit" variant="secondary" pendingText="Submitting…">
              Submit run {view.open.number} only
            </SubmitButton>
          ) : null}
        </div>
      </div>
    </form>
  );
}

/** The sheet with its open run is one draft: kept in this browser and sent as a whole. */
function sheetPlace(view: DaySheetView): DraftPlace {
  const runId = view.open?.runId;
  return {
    key: `${view.sheetId} ${runId ?? ''}`,
    names: SHEET_NAMES,
    send: (seen, form) =>
      putDraft(`/api/session-sheets/${view.sheetId}`, { seen, runId, ...splitSheet(form) }, 'seen'),
    held: async () => {
      const held = await heldSheet(view.sheetId, runId);
      return held && { version: held.seen, form: joinSheet(held.day, held.run), isEditable: held.isEditable };
    },
  };
}
