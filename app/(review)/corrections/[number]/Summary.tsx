import { countText } from '@/app/ui/countText';
import type { CorrectionView } from '@/lib/registry/corrections/correction';
import type { Display } from '@/lib/units/display';
import { percentIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';

/** The bundle in one paragraph: how many, how far they move, what of them would fail. */
export function Summary({ sums, display }: { sums: CorrectionView['sums']; display: Display }) {
  if (sums === undefined || sums.runs === 0)
    return (
      <p className="mb-4 max-w-[46rem]">No run that counts or waits was computed from what was wrong.</p>
    );
  const waiting = sums.runs - sums.counted;
  return (
    <div className="mb-4 max-w-[46rem] space-y-2">
      <p>
        It makes a new revision of {countText({ runs: sums.runs, testers: sums.testers })}
        {waiting > 0
          ? `; ${waiting} of them still ${waiting === 1 ? 'waits' : 'wait'} for a review of ${waiting === 1 ? 'its' : 'their'} own`
          : ''}
        . {moves(sums, display)}
      </p>
      <p>
        {sums.failing === 0
          ? 'Under the protocol in force none of them would fail.'
          : `Under the protocol in force ${sums.failing} would fail today, ${sums.newlyFailing} of them by the correction. Approving it does not take them out: they count as before, and their pages say so.`}
        {sums.withoutNumber > 0
          ? ` ${sums.withoutNumber} would be outside of what the method can normalise, and count without a number.`
          : ''}
      </p>
    </div>
  );
}

function moves({ leastLog, mostLog }: NonNullable<CorrectionView['sums']>, display: Display): string {
  if (leastLog === null || mostLog === null) return '';
  const [a, b] = [leastLog, mostLog]
    .map((log) => percentIn(display.consumption, 100 * Math.expm1(log)))
    .sort((x, y) => x - y);
  const text = (percent = 0) => `${showNumber(percent, 2, display, { signed: true })} %`;
  return text(a) === text(b)
    ? `Each number moves by ${text(a)}.`
    : `Numbers move by ${text(a)} to ${text(b)}.`;
}
