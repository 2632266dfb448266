import { Section } from '@/app/ui/Section';
import { promisedDifferenceSentence } from '@/lib/answers/shownRange';
import type { ComparedSetup, CompareView } from '@/lib/registry/comparisons/compare';
import { setupInText } from '@/lib/run/setupTitle';
import { earnedInterval } from '@/lib/stats/statedDifference';
import type { Display } from '@/lib/units/display';

interface PromisedRangeProps {
  view: CompareView;
  baseline: ComparedSetup;
  display: Display;
}

/** What the displays promised at the start, beside what was measured; nothing where too few runs say it. */
export function PromisedRange({ view, baseline, display }: PromisedRangeProps) {
  const ofBaseline = view.promises.get(baseline.setupId);
  if (ofBaseline === undefined) return null;
  const held = view.differences.flatMap((difference) => {
    const promise = view.promises.get(difference.setup.setupId);
    if (promise === undefined || difference.percent === null) return [];
    const measured = { percent: difference.percent, ends: earnedInterval(difference) };
    const promised = { setup: promise, baseline: ofBaseline };
    return [{ setup: difference.setup, sentence: promisedDifferenceSentence(promised, measured, display) }];
  });
  if (held.length === 0) return null;
  return (
    <Section
      id="promised"
      title="What the display promised"
      note={`Range shown at the start for a whole charge, against ${setupInText(baseline.name)}. The interval is that of the answer above.`}
    >
      <ul className="max-w-[46rem] space-y-2">
        {held.map(({ setup, sentence }) => (
          <li key={setup.setupId}>
            {held.length > 1 ? <span className="font-semibold">{setup.name}: </span> : null}
            {sentence}
          </li>
        ))}
      </ul>
    </Section>
  );
}
