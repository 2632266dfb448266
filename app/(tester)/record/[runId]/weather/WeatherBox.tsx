'use client';

import { useRef, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { displayOfBrowser } from '@/app/visitor/displayCookieText';
import type { WeatherOfForm } from '@/lib/capture/weather/weatherOfForm';
import { runFormOf } from '../../formValues';
import { fillForm } from '../fillForm';
import { WeatherValues } from './WeatherValues';

/** Reads the reports that stand in the form and fills its conditions from them, on the spot. */
export function WeatherBox() {
  const box = useRef<HTMLDivElement>(null);
  const [weather, setWeather] = useState<WeatherOfForm>();
  const [news, setNews] = useState('');
  const formOf = () => box.current?.closest('form') ?? null;

  const read = async () => {
    const form = formOf();
    if (form === null) return;
    setNews('Reading…');
    // Only who has a report needs the reader of them.
    const { weatherOfForm } = await import('@/lib/capture/weather/weatherOfForm');
    const values = runFormOf(new FormData(form));
    setWeather(weatherOfForm(values.stationReport ?? '', values, new Date().toISOString()));
    setNews('');
  };

  const fill = () => {
    const form = formOf();
    if (form === null || weather === undefined) return;
    fillForm(form, { ...runFormOf(new FormData(form)), ...weather.fill });
    form.dispatchEvent(new Event('input', { bubbles: true }));
    setWeather(undefined);
    setNews('The conditions are filled from the reports.');
  };

  return (
    <div ref={box} className="space-y-4">
      <div className="flex flex-wrap gap-3">
        <Button onClick={() => void read()}>Read the station reports</Button>
        {weather?.conditions ? <Button onClick={fill}>Fill the conditions from them</Button> : null}
      </div>
      <p role="status" className="min-h-6 text-sm text-ink-soft">
        {news}
      </p>
      {weather ? <WeatherValues weather={weather} display={displayOfBrowser(document.cookie)} /> : null}
      <noscript>
        <button
          type="submit"
          name="intent"
          value="weather"
          className="min-h-11 rounded-sm border border-rule-strong bg-sheet px-4 text-sm font-semibold"
        >
          Save and read the station reports
        </button>
      </noscript>
    </div>
  );
}
