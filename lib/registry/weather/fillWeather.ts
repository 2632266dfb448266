import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { type WeatherOfForm, weatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import { InvalidInput, NotFound } from '@/lib/run/errors';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { runState } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { saveDraft } from '../runs/saveDraft';

const reportsText = z
  .string()
  .trim()
  .min(1, 'There is no report. | The weather is read from it. | Paste one METAR or SPECI, or several lines.')
  .max(
    4000,
    'The reports are longer than 4 000 characters. | A run is covered by a few. | Paste fewer lines.',
  );

interface WeatherDraft {
  runId: string;
  number: number;
  draftVersion: number;
  form: RunForm;
}

export interface WeatherPage {
  number: number;
  draftVersion: number;
  /** As saved. */
  reports: string;
  /** What those say. */
  opened: WeatherOfForm | undefined;
}

/** What the page of a draft's weather opens with, for its tester only. */
export async function weatherPage(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<WeatherPage> {
  const { number, draftVersion, form } = await weatherDraft(registry, actor, runId);
  const reports = form.stationReport ?? '';
  const opened =
    reports.trim() === '' ? undefined : weatherOfForm(reports, form, registry.now().toISOString());
  return { number, draftVersion, reports, opened };
}

async function weatherDraft(
  registry: Registry,
  actor: Actor | undefined,
  runId: string,
): Promise<WeatherDraft> {
  const run = await runState(registry.db, parseInput(z.uuid(), runId));
  if (run === null) throw new NotFound('This run does not exist.');
  authorise(actor, 'editRun', run.testerId);
  return { runId, number: run.number, draftVersion: run.draftVersion, form: run.draft };
}

/** What the pasted reports say of the draft's run. Nothing is written. */
export async function readWeather(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<WeatherOfForm> {
  const { runId, reports } = parseInput(z.object({ runId: z.uuid(), reports: reportsText }), input);
  const { form } = await weatherDraft(registry, actor, runId);
  return weatherOfForm(reports, form, registry.now().toISOString());
}

/** Fills the draft's conditions from the reports and keeps their text as the source. */
export async function fillWeather(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<{ draftVersion: number }> {
  const { runId, draftVersion, reports } = parseInput(
    z.object({ runId: z.uuid(), draftVersion: z.int32().min(1), reports: reportsText }),
    input,
  );
  const { form } = await weatherDraft(registry, actor, runId);
  const weather = weatherOfForm(reports, form, registry.now().toISOString());
  if (weather.conditions === null) throw new InvalidInput(weather.issues);
  return saveDraft(registry, actor, { runId, draftVersion, form: { ...form, ...weather.fill } });
}
