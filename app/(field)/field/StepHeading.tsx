import { useEffect, useRef } from 'react';
import { CARD_STEPS, cardStep, stepIndex } from '@/lib/run/fields/cardSteps';
import type { CardStep } from '@/lib/run/fields/entry';

export const HEADING_ID = 'step-heading';

/** For what was settled above the step and is gone now. */
export function focusStep(): void {
  document.getElementById(HEADING_ID)?.focus();
}

/** Names the step and takes the focus whenever another one opens, so that it is read out and typing begins below it. */
export function StepHeading({ current }: { current: CardStep }) {
  const heading = useRef<HTMLHeadingElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: each step is announced anew
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
    heading.current?.scrollIntoView({ block: 'start' });
  }, [current]);
  return (
    <h2
      id={HEADING_ID}
      ref={heading}
      tabIndex={-1}
      className="mt-4 scroll-mt-20 [@media(max-height:35rem)]:scroll-mt-2"
    >
      {cardStep(current).label}{' '}
      <span className="font-sans text-sm font-normal text-ink-soft">
        step {stepIndex(current) + 1} of {CARD_STEPS.length}
      </span>
    </h2>
  );
}
