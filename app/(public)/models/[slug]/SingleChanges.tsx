import { DataTable } from '@/app/ui/DataTable';
import { Disclosure } from '@/app/ui/Disclosure';
import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import { endsText, signedText } from '@/lib/answers/differenceText';
import type { ModelView } from '@/lib/registry/models/model';
import { AS_DELIVERED, setupInText } from '@/lib/run/setupTitle';
import { RECORD } from '@/lib/run/world';
import { placeForInterval } from '@/lib/units/digits';
import type { Display } from '@/lib/units/display';
import { percentEndsIn } from '@/lib/units/sense';
import { showNumber } from '@/lib/units/show';
import { NotConverged } from '../../NotConverged';
import { changesFigure } from './changesFigure';

/** Setups one change away from the baseline, and what the change did. */
export function SingleChanges({ view, display }: { view: ModelView; display: Display }) {
  const figure = changesFigure(view, display);
  if (figure === undefined) return null;
  return (
    <Section
      id="changes"
      title="Which single change mattered"
      note={`Setups that differ from ${setupInText(view.baseline?.title ?? AS_DELIVERED)} in one thing only, at ${view.classLabel}.`}
      wide
    >
      {view.converged ? null : <NotConverged />}
      <Figure figure={figure} />
      <Refused changes={view.changes} />
      <WithinSessions changes={view.changes} display={display} />
      <p className="mt-4 text-sm">
        <Link className="link" href={compareAllHref(view)}>
          Compare these setups in full
        </Link>
      </p>
    </Section>
  );
}

/** What could not be drawn is said in words. */
function Refused({ changes }: Pick<ModelView, 'changes'>) {
  const refused = changes.filter((change) => change.simultaneous === null && change.refusal !== null);
  if (refused.length === 0) return null;
  return (
    <ul className="mb-6 max-w-[46rem] space-y-1 text-sm">
      {refused.map((change) => (
        <li key={change.setup.setupId}>
          {change.factorLabel}: {change.to.label}. <span className="text-ink-soft">{change.refusal}</span>
        </li>
      ))}
    </ul>
  );
}

function WithinSessions({ changes, display }: Pick<ModelView, 'changes'> & { display: Display }) {
  const seen = changes.filter((change) => change.withinSessions !== null);
  if (seen.length === 0) return null;
  return (
    <Disclosure
      title="Counting only days on which both were driven"
      says="Only sessions in which this one thing was changed and nothing else. The last column says how much of the spread between sessions is more than runs of one session differ by anyway."
    >
      <DataTable
        caption="From sessions in which this one thing was changed and nothing else"
        rows={seen}
        rowKey={(change) => change.setup.setupId}
        columns={[
          {
            key: 'change',
            header: 'Change',
            rowHeader: true,
            cell: (change) => `${change.factorLabel}: ${change.to.label}`,
          },
          {
            key: 'sessions',
            header: 'Sessions',
            align: 'end',
            cell: ({ withinSessions }) => withinSessions?.sessions,
          },
          { key: 'cars', header: 'Cars', align: 'end', cell: ({ withinSessions }) => withinSessions?.cars },
          {
            key: 'difference',
            header: 'Difference',
            unit: '%',
            align: 'end',
            cell: ({ withinSessions }) => (withinSessions ? within(withinSessions, display).value : '–'),
          },
          {
            key: 'interval',
            header: 'Alone, 95 %',
            unit: '%',
            align: 'end',
            cell: ({ withinSessions }) =>
              withinSessions?.interval ? within(withinSessions, display).interval : 'one session only',
          },
          {
            key: 'spread',
            header: 'Spread beyond that of runs',
            unit: '%',
            align: 'end',
            cell: ({ withinSessions }) =>
              withinSessions?.interval ? showNumber(100 * withinSessions.i2, 0, display) : '–',
          },
        ]}
        footnote="Combined over sessions as a random effect, so a change that does more on one car than on another widens the interval."
      />
    </Disclosure>
  );
}

/** The difference to the place of its own interval; of one session, which gives none, to tenths. */
function within(
  { percent, interval }: NonNullable<ModelView['changes'][number]['withinSessions']>,
  display: Display,
) {
  const ends = interval ?? undefined;
  const place = ends && placeForInterval(...percentEndsIn(display.consumption, ends));
  return {
    value: signedText(percent, display, place),
    interval: ends && endsText(ends, display, place),
  };
}

function compareAllHref(view: ModelView): string {
  const query = new URLSearchParams();
  if (view.classKey !== undefined) query.set('class', view.classKey);
  if (view.world !== RECORD) query.set('world', view.world);
  for (const slug of [view.baseline?.slug, ...view.changes.map((change) => change.setup.slug)]) {
    if (slug !== undefined) query.append('setup', slug);
  }
  return `/compare?${query.toString()}`;
}
