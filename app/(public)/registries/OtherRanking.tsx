import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { EmptyState } from '@/app/ui/EmptyState';
import { Figure } from '@/app/ui/figures/Figure';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { OtherRankingView } from '@/lib/registry/otherRegistries/otherRanking';
import type { Display } from '@/lib/units/display';
import { unitSymbol } from '@/lib/units/unit';
import { fittedNumber, intervalText } from '../consumptionText';
import { NotConverged } from '../NotConverged';
import { hrefWith, one, type SearchParams } from '../rankings/query';
import { againstText, missingText } from '../rankings/rankingRows';
import { OtherStrip } from './OtherStrip';
import { otherFigure } from './otherFigure';
import { otherHref } from './otherHref';

interface OtherRankingProps {
  view: OtherRankingView;
  params: SearchParams;
  display: Display;
  /** This registry's own stands above it. */
  isBeside: boolean;
}

/** The ranking of another registry, in groups of its own under its own name. */
export function OtherRanking({ view, params, display, isBeside }: OtherRankingProps) {
  const { source } = view;
  const areCountsShown = one(params, 'counts') === 'shown';
  return (
    <Section
      id="other"
      title={`Ranked setups of ${source.name}`}
      note={
        isBeside
          ? 'In groups of their own: other cars, roads and people, fitted apart. A setup here and one above are not held against each other.'
          : undefined
      }
      actions={
        isBeside ? undefined : (
          <Link
            className="link inline-flex min-h-8 items-center text-sm"
            href={hrefWith('/rankings', params, { counts: areCountsShown ? undefined : 'shown' })}
          >
            {areCountsShown ? 'Hide counts and places' : 'Show counts and places'}
          </Link>
        )
      }
      wide
    >
      <OtherStrip source={source} />
      {view.converged ? null : <NotConverged />}
      {view.groups.length === 0 ? (
        <EmptyState title="None of their setups has a place yet." />
      ) : (
        view.groups.map((group) => (
          <section key={group.key} aria-label={group.title} className="mt-8 first:mt-0">
            <h3>{group.title}</h3>
            <Figure figure={otherFigure(view, group, display, areCountsShown)} />
          </section>
        ))
      )}
      {isBeside ? null : (
        <KeysetPages
          {...view.pages}
          label="Pages of ranked setups"
          hrefFor={(from) => hrefWith('/rankings', params, { from })}
        />
      )}
      {view.notRanked.length === 0 || isBeside ? null : <NotRanked view={view} display={display} />}
      <p className="mt-4 text-sm text-ink-soft">
        Makers, models, setups and people have no names in what they publish, so that whoever is renamed or
        erased there is so everywhere: the digits tell them apart.
      </p>
    </Section>
  );
}

function NotRanked({ view, display }: Pick<OtherRankingProps, 'view' | 'display'>) {
  const { notRanked, notRankedOf, source } = view;
  return (
    <div className="mt-8">
      <DataTable
        caption={`Not ranked yet${notRankedOf > notRanked.length ? `, the first ${notRanked.length} of ${notRankedOf}` : ''}`}
        rows={notRanked}
        rowKey={(setup) => setup.setupId}
        columns={[
          {
            key: 'setup',
            header: 'Setup',
            rowHeader: true,
            cell: (setup) => (
              <>
                <Link className="link" href={otherHref(source.world, 'setups', setup.setupId)}>
                  {setup.title}
                </Link>
                <span className="block text-ink-soft">{setup.model}</span>
              </>
            ),
          },
          {
            key: 'value',
            header: 'Estimate',
            unit: unitSymbol(display.consumption),
            align: 'end',
            answer: true,
            cell: (setup) => fittedNumber(setup, display),
          },
          {
            key: 'interval',
            header: '95 % interval',
            align: 'end',
            cell: (setup) => intervalText(setup, display),
          },
          { key: 'against', header: 'Difference', cell: (setup) => againstText(setup, display) },
          { key: 'counts', header: 'From', cell: (setup) => countText(setup) },
          { key: 'missing', header: 'Needed for a place', cell: missingText },
        ]}
      />
    </div>
  );
}
