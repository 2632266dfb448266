import { EmptyState } from '@/app/ui/EmptyState';
import { Figure } from '@/app/ui/figures/Figure';
import { KeysetPages } from '@/app/ui/KeysetPages';
import { Link } from '@/app/ui/Link';
import { LinkTabs } from '@/app/ui/LinkTabs';
import { Notice } from '@/app/ui/Notice';
import { Section } from '@/app/ui/Section';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';
import { plainWords } from './chosenWords';
import { hrefWith, one, type SearchParams } from './query';
import { rankingFigure } from './rankingFigure';

interface RankedGroupsProps {
  view: RankingView;
  params: SearchParams;
  display: Display;
}

/** A figure a group, each on an axis of its own. */
export function RankedGroups({ view, params, display }: RankedGroupsProps) {
  const areCountsShown = one(params, 'counts') === 'shown';
  return (
    <Section
      id="ranked"
      title={view.plain === null ? 'Ranked setups' : 'Setups by plain means'}
      actions={
        <Link
          className="link no-print inline-flex min-h-8 items-center text-sm"
          href={hrefWith('/rankings', params, { counts: areCountsShown ? undefined : 'shown' })}
        >
          {areCountsShown ? 'Hide counts and places' : 'Show counts and places'}
        </Link>
      }
      wide
    >
      <LinkTabs
        label="Grouped by"
        tabs={[
          { key: undefined, label: 'By model', by: 'model' },
          { key: 'body', label: 'By body', by: 'body' },
        ].map(({ key, label, by }) => ({
          href: hrefWith('/rankings', params, { by: key, from: undefined }),
          label,
          current: view.by === by,
        }))}
      />
      {view.placeless === undefined ? null : (
        <p className="mt-4 max-w-[46rem] text-sm">
          {view.placeless}{' '}
          <Link className="link" href="/method#resting">
            Why an answer must not rest on one tester
          </Link>
        </p>
      )}
      {view.groups.length === 0 ? (
        <EmptyState title="No setup meets these filters and the protocol’s minimum counts.">
          Widen the filters, or look below at what is still missing.
        </EmptyState>
      ) : (
        view.groups.map((group) => (
          <section key={group.key} aria-label={group.title} className="mt-8 first:mt-0">
            <h3>
              {view.by === 'model' ? (
                <Link className="link text-ink" href={`/models/${group.key}`}>
                  {group.title}
                </Link>
              ) : (
                group.title
              )}
            </h3>
            <Figure figure={rankingFigure(view, group, params, display)} />
          </section>
        ))
      )}
      <KeysetPages
        {...view.pages}
        label="Pages of ranked setups"
        hrefFor={(from) => hrefWith('/rankings', params, { from })}
      />
    </Section>
  );
}

/** Plain means are no estimates: what they leave out is said before they are read. */
export function PlainNotice({ view, display }: Pick<RankedGroupsProps, 'view' | 'display'>) {
  const { plain } = view;
  const runs = plainWords(view, display).slice(1);
  return (
    <Notice
      kind="caution"
      title={`Plain means${plain?.isRaw ? ' as measured' : ' at reference conditions'}${runs.length === 0 ? '' : ` of runs: ${runs.join('; ')}`}. Nothing is fitted to them, so they have no intervals.`}
    >
      Cars, days and traffic are not told apart from the setups here. The comparison behind each row is of all
      runs.
    </Notice>
  );
}
