import { EmptyState } from '@/app/ui/EmptyState';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { RequestsView } from '@/lib/registry/requests/requests';
import { setupAtStart } from '@/lib/run/setupTitle';
import type { Display } from '@/lib/units/display';
import { WorthDay } from './WorthDay';

/** The days that would teach most, those before them that would open a comparison. */
export function WorthSection({ view, display }: { view: RequestsView; display: Display }) {
  const { worth, openings, classLabel } = view;
  return (
    <Section
      id="worth"
      title={`What would teach most at ${classLabel}`}
      note={
        <>
          Worked out from the runs so far: how much surer one more day would make an answer, for each hour
          spent on it.{' '}
          <Link className="link" href="/method#next">
            How that is worked out
          </Link>
        </>
      }
    >
      {openings.length > 0 ? (
        <p className="mb-6 max-w-[46rem]">
          Not driven at this speed by anybody yet, so that one day beside the car as delivered would open the
          comparison:{' '}
          {openings.map(({ slug, title, model }, i) => (
            <span key={slug}>
              {i > 0 ? '; ' : ''}
              <Link className="link" href={`/setups/${slug}`}>
                {setupAtStart(title)}
              </Link>{' '}
              of the {model}
            </span>
          ))}
          .
        </p>
      ) : null}
      {worth.length === 0 ? (
        <EmptyState title="No difference is open here.">
          Either every difference between two setups of one model is settled, or too little has been driven to
          say how well runs repeat.
        </EmptyState>
      ) : (
        <ol className="space-y-6">
          {worth.map((one) => (
            <li key={`${one.setup.id} ${one.baseline.id}`}>
              <WorthDay worth={one} world={view.group.world} display={display} />
            </li>
          ))}
        </ol>
      )}
    </Section>
  );
}
