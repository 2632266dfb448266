'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { type FormState, textsOf, UNTOUCHED } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import type { WeatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import { fillWeather, readWeather } from '@/lib/registry/weather/fillWeather';

export interface WeatherState extends FormState {
  weather: WeatherOfForm | undefined;
}

/** Reads the pasted reports, or fills the draft from them, by the button that was pressed. */
export async function weather(_previous: WeatherState, data: FormData): Promise<WeatherState> {
  const input = {
    runId: String(data.get('runId') ?? ''),
    draftVersion: Number(data.get('draftVersion')),
    reports: String(data.get('reports') ?? ''),
  };
  try {
    const actor = await signedIn();
    if (data.get('intent') !== 'fill')
      return { ...UNTOUCHED, values: textsOf(data), weather: await readWeather(registry(), actor, input) };
    await fillWeather(registry(), actor, input);
  } catch (error) {
    return { ...(await refused(error, textsOf(data))), weather: undefined };
  }
  revalidatePath('/record', 'layout');
  redirect(`/record/${input.runId}?notice=fromWeather#part-conditions`);
}
