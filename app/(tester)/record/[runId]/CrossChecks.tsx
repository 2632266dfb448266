import { Sign } from '@/app/ui/Sign';
import type { LiveChecks } from './liveChecks';

/** How the numbers typed so far fit together. It never stands in the way of sending. */
export function CrossChecks({ checks }: { checks: LiveChecks }) {
  const { disagreements, slips } = checks;
  return (
    <section aria-labelledby="cross-checks-title" className="mt-8 border-t border-rule-strong pt-4">
      <h2 id="cross-checks-title">Cross-checks</h2>
      <div role="status" className="mt-2 max-w-[46rem] text-sm">
        {disagreements.length === 0 ? (
          <p className="text-ink-soft">Nothing typed so far contradicts itself.</p>
        ) : (
          <ul className="space-y-2">
            {[...slips, ...disagreements].map((sentence) => (
              <li key={sentence} className="flex gap-2">
                <Sign kind="caution" className="mt-0.5 size-4 shrink-0 text-caution" />
                <span>{sentence}</span>
              </li>
            ))}
          </ul>
        )}
      </div>
      {disagreements.length > 0 ? (
        <p className="mt-2 max-w-[46rem] text-sm text-ink-soft">
          You can send the run all the same; the protocol then judges what remains.
        </p>
      ) : null}
    </section>
  );
}
