'use client';

import { useEffect, useState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';

const STORED = 'evenloop.reviewKeys';

/** What each letter does: it chooses or presses the control of that id. */
const KEYS = [
  { key: 'a', id: 'kind-0', does: 'choose Approve' },
  { key: 'c', id: 'kind-1', does: 'choose Ask for changes' },
  { key: 'r', id: 'kind-2', does: 'choose Reject' },
  { key: 'n', id: 'note', does: 'write the note' },
  { key: 'p', id: 'photo-next', does: 'next photo' },
  { key: 'z', id: 'photo-zoom-in', does: 'zoom in' },
  { key: 'x', id: 'photo-zoom-out', does: 'zoom out' },
  { key: 't', id: 'photo-turn', does: 'turn the photo' },
] as const;

/**
 * Single letters as shortcuts, off until asked for (WCAG 2.1.4: they would otherwise get in the way of speech input). A
 * letter only chooses: Enter on the chosen decision records it.
 */
export function DecisionKeys() {
  const [isOn, setOn] = useState(false);
  const [said, setSaid] = useState('');
  useEffect(() => setOn(readStored()), []);
  useEffect(() => {
    if (!isOn) return;
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey || isTyping(event.target)) return;
      const chosen = KEYS.find(({ key }) => key === event.key.toLowerCase());
      if (chosen === undefined) return;
      event.preventDefault();
      setSaid(press(chosen.id));
    };
    document.addEventListener('keydown', onKey);
    return () => document.removeEventListener('keydown', onKey);
  }, [isOn]);
  return (
    <div className="mt-8 border-t border-rule pt-3 text-sm">
      <CheckField
        name="reviewKeys"
        label="Single-letter keys on this page"
        checked={isOn}
        onCheckedChange={(checked) => {
          setOn(checked);
          writeStored(checked);
        }}
      />
      {isOn ? (
        <ul className="mt-2 grid gap-x-8 gap-y-1 pl-8 sm:grid-cols-2">
          {KEYS.map(({ key, does }) => (
            <li key={key}>
              <kbd className="inline-block min-w-6 border border-rule-strong px-1.5 text-center">{key}</kbd>{' '}
              {does}
            </li>
          ))}
        </ul>
      ) : null}
      <p role="status" className="pl-8 text-ink-soft">
        {said}
      </p>
    </div>
  );
}

/** Chooses a radio, focuses a field or presses a button, and says what happened. */
function press(id: string): string {
  const control = document.getElementById(id);
  if (control instanceof HTMLInputElement) {
    if (control.disabled) return 'This decision is not possible: a rule failed.';
    control.click();
    control.focus();
    return `${control.labels?.[0]?.firstChild?.textContent ?? 'It'} is chosen. Enter records it.`;
  }
  if (control instanceof HTMLTextAreaElement) control.focus();
  else if (control instanceof HTMLButtonElement && !control.disabled) control.click();
  return '';
}

function isTyping(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return target instanceof HTMLInputElement && target.type !== 'radio' && target.type !== 'checkbox';
}

/** A browser may refuse storage: then the choice lasts for this page. */
function readStored(): boolean {
  try {
    return localStorage.getItem(STORED) === 'on';
  } catch {
    return false;
  }
}

function writeStored(isOn: boolean): void {
  try {
    localStorage.setItem(STORED, isOn ? 'on' : 'off');
  } catch {
    // Nothing to do: see above.
  }
}
