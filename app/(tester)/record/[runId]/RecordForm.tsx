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
import { FormSection } from '@/app/ui/forms/FormSection';
import { summaryOf } from '@/app/ui/forms/fieldErrors';
import { submitterOf } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { Notice } from '@/app/ui/Notice';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import type { Display } from '@/lib/units/display';
import { idOfPath, inFormOrder, runFormOf, standingIssues, startingValues } from '../formValues';
import { sendRun } from './actions';
import { ChangedSince } from './ChangedSince';
import { CrossChecks } from './CrossChecks';
import { DraftBar } from './DraftBar';
import { DraftNotices } from './DraftNotices';
import type { FormParts } from './formParts';
import { PlaceOfRun } from './PlaceOfRun';
import { SectionFields, sectionNotice, sectionProgress } from './sections';
import { notSentYet } from './sentRun';
import { takeUnits } from './takeUnits';
import { useChoices } from './useChoices';
import { runPlace, useDraft } from './useDraft';
import { useSettledChecks } from './useSettledChecks';

/** The whole run on one page: a plain form that saves itself and checks itself where scripts run. */
export function RecordForm({ view, display }: { view: RecordFormView; display: Display }) {
  const [sent, dispatch] = useActionState(sendRun, notSentYet(view.draftVersion));
  const formRef = useRef<HTMLFormElement>(null);
  const units = view.cars.find((car) => car.id === view.form.carId)?.units;
  const [starting] = useState(() => startingValues(sent.form ?? view.form, { ...view.units, ...units }));
  const [place] = useState(() => runPlace(view.runId));
  const draft = useDraft(place, sent.draftVersion, starting, formRef, sent.torn);
  const checks = useSettledChecks(draft.values, view, display);
  const { typed, save, hold, resume, reconcile } = draft;
  const [photos, setPhotos] = useState<FormParts['photos']>(view.photos);
  const choices = useChoices(draft, sent.missing);

  useEffect(() => {
    // The action keeps what it could not submit, so the server's version has moved on.
    if (sent.title === '') return;
    if (!sent.wasElsewhere) return resume(sent.draftVersion);
    resume(undefined);
    void reconcile();
  }, [sent, resume, reconcile]);

  const send = async (event: SubmitEvent<HTMLFormElement>) => {
    event.preventDefault();
    const form = event.currentTarget;
    const intent = submitterOf(event.nativeEvent)?.getAttribute('value');
    if (intent === 'settle') return choices.settle();
    const saved = await save();
    if (saved.status !== 'saved') return;
    if (intent === 'loop') window.location.assign(`/record/${view.runId}/loop`);
    if (intent !== 'submit') return;
    const data = new FormData(form);
    for (const name of [...data.keys()]) if (name.startsWith('evidence.')) data.delete(name);
    data.set('intent', 'submit');
    data.set('draftVersion', String(saved.version));
    // It was saved just now: what differs by the time it arrives was changed elsewhere.
    data.set('base', JSON.stringify(runFormOf(data)));
    hold();
    startTransition(() => dispatch(data));
  };

  const car = view.cars.find((one) => one.id === draft.values.carId);
  const parts = {
    view,
    starting,
    values: draft.values,
    // No field is called missing beside what was typed into it since; the summary says what came back.
    issues: standingIssues(sent.issues, sent.form ?? draft.values, draft.values),
    remarks: checks.remarks,
    review: view.review,
    photos,
    onPhotos: setPhotos,
  };
  const choose = (name: string, value: string) => {
    const form = formRef.current;
    if (form === null) return;
    if (name === 'carId') takeUnits(form, view.cars.find((car) => car.id === value)?.units ?? {});
    typed();
  };
  return (
    <form
      ref={formRef}
      action={dispatch}
      noValidate
      aria-label={`Run ${view.number}`}
      // A field that is led to must not come to rest under the bar that sticks to the top, nor hide its label there.
      className="[&_[id]]:scroll-mt-40 [&_[role=alert]]:scroll-mt-20"
      onSubmit={send}
      onInput={typed}
    >
      <input type="hidden" name="runId" value={view.runId} />
      <input type="hidden" name="draftVersion" value={draft.state.version} />
      <DraftBar draft={draft} />
      <input type="hidden" name="base" value={JSON.stringify(sent.torn?.theirs ?? view.form)} />
      <DraftNotices draft={draft} view={view} answers={choices} />
      {sent.title && sent.issues.length === 0 ? <Notice kind="problem" title={sent.title} live /> : null}
      <ErrorSummary
        errors={useMemo(() => summaryOf(inFormOrder(sent.issues), idOfPath), [sent])}
        title={sent.title}
      />
      <PlaceOfRun view={view} now={draft.values} />
      {RUN_SECTIONS.map((section, index) => (
        <FormSection
          key={section.key}
          id={`part-${section.key}`}
          legend={section.label}
          step={{ number: index + 1, of: RUN_SECTIONS.length }}
          progress={sectionProgress(section.key, draft.values)}
        >
          {sectionNotice(section.key, view, display, car)}
          <SectionFields section={section.key} parts={parts} onChoose={choose} />
        </FormSection>
      ))}
      <CrossChecks checks={checks} />
      <ChangedSince revisionNumber={view.revisionNumber} sent={view.sentForm} now={draft.values} />
      <div className="mt-8 flex flex-wrap items-center gap-4">
        <SubmitButton name="intent" value="submit" pendingText="Submitting…">
          {view.revisionNumber > 0 ? `Submit revision ${view.revisionNumber + 1}` : 'Submit for review'}
        </SubmitButton>
        <SubmitButton name="intent" value="save" variant="secondary" pendingText="Saving…">
          Save the draft
        </SubmitButton>
      </div>
    </form>
  );
}
