'use client';

import { useRouter } from 'next/navigation';
import { useEffect, useState } from 'react';
import type { ImportProgress as Progress } from '@/lib/registry/imports/importPage';

interface ImportProgressProps {
  importId: string;
  state: 'checking' | 'running' | 'undoing';
  done: number;
  total: number;
}

/** A check takes seconds, making runs takes minutes. */
const EVERY_MS = { checking: 700, running: 2000, undoing: 2000 } as const;

/** How far the background is; the page is read anew when it has finished. */
export function ImportProgress({ importId, state, done, total }: ImportProgressProps) {
  const router = useRouter();
  const [now, setNow] = useState({ done, total });
  useEffect(() => {
    const timer = setInterval(async () => {
      const progress = await progressOf(importId);
      if (progress === undefined) return;
      if (progress.state !== state) {
        clearInterval(timer);
        router.refresh();
      }
      if (state === 'checking') return;
      setNow(
        state === 'running'
          ? { done: Math.max(progress.rowsDone, progress.rowsMade), total: progress.rowsRead }
          : { done: progress.withdrawn, total: progress.rowsMade },
      );
    }, EVERY_MS[state]);
    return () => clearInterval(timer);
  }, [importId, state, router]);
  if (state === 'checking') {
    return (
      <div className="max-w-[46rem]">
        <progress aria-label="rows being checked" className="h-3 w-full accent-accent" />
        <p role="status" className="num mt-2 text-sm">
          {total} {total === 1 ? 'row is' : 'rows are'} being checked; nothing is imported yet. This page may
          be closed; the work goes on.
        </p>
      </div>
    );
  }
  const words = state === 'running' ? 'rows done' : 'runs taken back';
  return (
    <div className="max-w-[46rem]">
      <progress
        value={now.done}
        max={Math.max(1, now.total)}
        aria-label={words}
        className="h-3 w-full accent-accent"
      />
      <p role="status" className="num mt-2 text-sm">
        {now.done} of {now.total} {words}. This page may be closed; the work goes on.
      </p>
    </div>
  );
}

async function progressOf(importId: string): Promise<Progress | undefined> {
  try {
    const answer = await fetch(`/import/${importId}/progress`);
    return answer.ok ? ((await answer.json()) as Progress) : undefined;
  } catch {
    return undefined;
  }
}
