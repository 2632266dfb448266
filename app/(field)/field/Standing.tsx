import { useSyncExternalStore } from 'react';
import type { Field } from './useField';

/** Whose card this is and whether there is a line to the server: a phone without one is signed in all the same. */
export function Standing({ field }: { field: Field }) {
  const hasLine = useSyncExternalStore(watchLine, lineNow, () => true) && field.round !== 'offline';
  if (field.round === 'signedOut' || field.lists === undefined) return null;
  const { displayName } = field.lists;
  return (
    <p role="status" className="mb-3 text-sm text-ink-soft">
      {hasLine ? `Signed in as ${displayName}.` : null}
      {hasLine ? null : (
        <>
          <strong className="text-ink">Signed in as {displayName}, offline.</strong> What you note is kept
          here and sent by itself.
        </>
      )}
    </p>
  );
}

function watchLine(changed: () => void): () => void {
  window.addEventListener('online', changed);
  window.addEventListener('offline', changed);
  return () => {
    window.removeEventListener('online', changed);
    window.removeEventListener('offline', changed);
  };
}

function lineNow(): boolean {
  return navigator.onLine;
}
