'use client';

import { useEffect, useRef, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { SafetyCaution, SafetyPoints } from '@/app/ui/SafetyCaution';
import { Sign } from '@/app/ui/Sign';

const READ_ON = 'evenloop-field-caution';

/** The whole caution until it was read today; then one line that opens it again. It never goes away. */
export function DayCaution() {
  const [isRead, setRead] = useState(false);
  const line = useRef<HTMLElement>(null);
  useEffect(() => {
    const look = () => setRead(noted() === today());
    look();
    // A page left open over night asks anew in the morning.
    document.addEventListener('visibilitychange', look);
    return () => document.removeEventListener('visibilitychange', look);
  }, []);
  const read = () => {
    try {
      localStorage.setItem(READ_ON, today());
    } catch {
      // Not noted: the page asks again when it is opened anew.
    }
    setRead(true);
    requestAnimationFrame(() => line.current?.focus());
  };
  if (!isRead) {
    return (
      <SafetyCaution kind="field">
        <Button className="min-h-12" onClick={read}>
          Understood for today
        </Button>
      </SafetyCaution>
    );
  }
  return (
    <details className="mb-3 border-l-4 border-caution bg-caution-wash text-sm">
      <summary ref={line} className="flex min-h-12 list-none items-center gap-2 px-3 font-semibold">
        <Sign kind="caution" className="size-4 shrink-0 text-caution" />
        <span className="sr-only">Caution: </span>
        <span className="min-w-0 truncate">Parked or passenger only; law first</span>
        <span className="link ml-auto font-normal whitespace-nowrap">All of it</span>
      </summary>
      <div className="px-3 pb-3">
        <SafetyPoints kind="field" />
      </div>
    </details>
  );
}

function noted(): string | null {
  try {
    return localStorage.getItem(READ_ON);
  } catch {
    return null;
  }
}

/** The phone's own date. */
function today(): string {
  return new Date().toDateString();
}
