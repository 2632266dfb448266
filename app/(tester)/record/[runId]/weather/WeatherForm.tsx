'use client';

import { useActionState } from 'react';
import { ErrorSummary } from '@/app/ui/forms/ErrorSummary';
import { errorOf, summaryOf } from '@/app/ui/forms/fieldErrors';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { KeptForm } from '@/app/ui/forms/KeptForm';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { Notice } from '@/app/ui/Notice';
import type { WeatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import type { Display } from '@/lib/units/display';
import { weather } from './actions';
import { WeatherValues } from './WeatherValues';

interface WeatherFormProps {
  runId: string;
  draftVersion: number;
  reports: string;
  /** What the saved reports say, when the page is opened. */
  opened: WeatherOfForm | undefined;
  display: Display;
}

export function WeatherForm({ runId, draftVersion, reports, opened, display }: WeatherFormProps) {
  const [state, dispatch] = useActionState(weather, { ...UNTOUCHED, weather: opened });
  return (
    <KeptForm dispatch={dispatch} label="Station reports">
      {state.title && state.issues.length === 0 ? <Notice kind="problem" title={state.title} live /> : null}
      <ErrorSummary errors={summaryOf(state.issues)} title={state.title} />
      <input type="hidden" name="runId" value={runId} />
      <input type="hidden" name="draftVersion" value={draftVersion} />
      <TextField
        name="reports"
        label="Station reports"
        multiline
        rows={5}
        maxLength={4000}
        spellCheck={false}
        hint="One METAR or SPECI a line, of one station, best from before, during and after the run."
        defaultValue={state.values.reports ?? reports}
        error={errorOf(state.issues, 'reports') ?? errorOf(state.issues, 'stationReport')}
      />
      <div className="my-5 flex flex-wrap gap-4">
        <SubmitButton name="intent" value="read" variant="secondary" pendingText="Reading…">
          Read the reports
        </SubmitButton>
        <SubmitButton name="intent" value="fill" pendingText="Filling…">
          Fill the conditions from them
        </SubmitButton>
      </div>
      {state.weather ? <WeatherValues weather={state.weather} display={display} /> : null}
    </KeptForm>
  );
}
