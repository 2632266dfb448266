'use client';

import { useSyncExternalStore } from 'react';

const storageKey = 'evenloop-theme';
const changed = 'evenloop-theme-change';
type Theme = 'system' | 'light' | 'dark';

const choices: readonly { value: Theme; label: string }[] = [
  { value: 'system', label: 'As the system' },
  { value: 'light', label: 'Light' },
  { value: 'dark', label: 'Dark' },
];

function subscribe(notify: () => void): () => void {
  window.addEventListener(changed, notify);
  window.addEventListener('storage', notify);
  return () => {
    window.removeEventListener(changed, notify);
    window.removeEventListener('storage', notify);
  };
}

function current(): Theme | null {
  const value = document.documentElement.dataset.theme;
  return value === 'light' || value === 'dark' ? value : 'system';
}

function choose(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
  try {
    if (theme === 'system') localStorage.removeItem(storageKey);
    else localStorage.setItem(storageKey, theme);
  } catch {
    // Without storage the choice holds for this page only.
  }
  window.dispatchEvent(new Event(changed));
}

/** Light, dark or as the system has it. Needs scripts, so it appears only where they run. */
export function ThemeChoice() {
  const theme = useSyncExternalStore(subscribe, current, () => null);
  if (theme === null) return null;
  return (
    <fieldset className="flex flex-wrap items-center gap-x-4 text-sm">
      <legend className="float-left mr-4 text-ink-soft">Appearance</legend>
      {choices.map((choice) => (
        <label key={choice.value} className="inline-flex min-h-8 items-center gap-1.5">
          <input
            type="radio"
            name="appearance"
            value={choice.value}
            checked={theme === choice.value}
            onChange={() => choose(choice.value)}
            className="size-4 accent-accent"
          />
          {choice.label}
        </label>
      ))}
    </fieldset>
  );
}
