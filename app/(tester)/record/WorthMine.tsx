import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { worthText } from '@/lib/answers/worthText';
import type { WorthForMe } from '@/lib/registry/requests/worthForMe';
import type { Display } from '@/lib/units/display';

/** With a car of one's own, on a loop that it drove: the day that would teach most. */
export function WorthMine({ mine, display }: { mine: WorthForMe; display: Display }) {
  const { worth, world, car } = mine;
  const { todo, gain } = worthText(worth, display, `in ${car}`);
  const plan = new URLSearchParams({
    class: worth.classKey,
    baseline: worth.baseline.id,
    setup: worth.setup.id,
    car: worth.carId ?? '',
    loop: worth.loop.id,
  });
  return (
    <Section id="worth" title="Worth most with your car">
      <div className="max-w-[46rem] border-l-2 border-rule-strong pl-4">
        <p>{todo}</p>
        <p className="mt-1 text-ink-soft">
          {gain} At {worth.classLabel}.
        </p>
        <p className="mt-1 flex flex-wrap gap-x-5 text-sm">
          <Link className="link inline-flex min-h-6 items-center" href={`/studies/new?${plan}`}>
            Plan a study of it
          </Link>
          <Link
            className="link inline-flex min-h-6 items-center"
            href={`/requests?${new URLSearchParams({ class: worth.classKey, world })}`}
          >
            What else would teach much
          </Link>
        </p>
      </div>
    </Section>
  );
}
