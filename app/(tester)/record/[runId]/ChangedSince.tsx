import { DefinitionList } from '@/app/ui/DefinitionList';
import { entryChanges } from '@/lib/run/fields/entryChanges';
import type { RunForm } from '@/lib/run/runForm';

interface ChangedSinceProps {
  revisionNumber: number;
  sent: RunForm | undefined;
  now: RunForm;
}

/** What the reviewer will see as changed when the run is sent again. */
export function ChangedSince({ revisionNumber, sent, now }: ChangedSinceProps) {
  if (sent === undefined) return null;
  const changes = entryChanges(sent, now);
  return (
    <section aria-labelledby="changed-since" className="mt-8 border-t border-rule-strong pt-4">
      <h2 id="changed-since" className="mb-2">
        Changed since revision {revisionNumber}
      </h2>
      {changes.length === 0 ? (
        <p className="text-sm text-ink-soft">No entry so far. Photos are compared when it is sent.</p>
      ) : (
        <DefinitionList
          items={changes.map(({ label, before, after }) => ({
            term: label,
            description: after || 'empty',
            note: `before: ${before || 'empty'}`,
          }))}
        />
      )}
    </section>
  );
}
