import { EvidenceTag } from '@/app/ui/answers/EvidenceTag';
import { Link } from '@/app/ui/Link';
import { worthText } from '@/lib/answers/worthText';
import type { DayWorthDriving } from '@/lib/registry/requests/worthMost';
import { setupAtStart, setupInText } from '@/lib/run/setupTitle';
import type { WorldKey } from '@/lib/run/world';
import type { Display } from '@/lib/units/display';
import { answerHref } from '../home/answerHref';

interface WorthDayProps {
  worth: DayWorthDriving;
  world: WorldKey;
  display: Display;
}

/** One day worth driving: what it is of, what to drive, what it would do, and what is known until then. */
export function WorthDay({ worth, world, display }: WorthDayProps) {
  const { todo, gain, now } = worthText(worth, display);
  const plan = new URLSearchParams({
    class: worth.classKey,
    baseline: worth.baseline.id,
    setup: worth.setup.id,
  });
  return (
    <div className="max-w-[46rem] border-l-2 border-rule-strong pl-4">
      <h3 className="text-base">
        {worth.model}: {setupAtStart(worth.setup.title)} against {setupInText(worth.baseline.title)}
      </h3>
      <p className="mt-1">{todo}</p>
      <p className="mt-1">{gain}</p>
      <p className="mt-1 text-sm text-ink-soft">
        <EvidenceTag word={now.word} /> {now.sentence} {now.next}
      </p>
      <p className="mt-1 flex flex-wrap gap-x-5 text-sm">
        <Link className="link inline-flex min-h-6 items-center" href={answerHref({ ...worth, world })}>
          What is known
        </Link>
        <Link className="link inline-flex min-h-6 items-center" href={`/studies/new?${plan}`}>
          Plan a study of it
        </Link>
      </p>
    </div>
  );
}
