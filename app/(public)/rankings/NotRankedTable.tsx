import { countText } from '@/app/ui/countText';
import { DataTable } from '@/app/ui/DataTable';
import { Link } from '@/app/ui/Link';
import { Section } from '@/app/ui/Section';
import type { RankedSetup } from '@/lib/registry/rankings/rankedSetup';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import type { Display } from '@/lib/units/display';
import { unitSymbol } from '@/lib/units/unit';
import { fittedNumber, intervalText } from '../consumptionText';
import { againstLink, missingText } from './rankingRows';

interface NotRankedTableProps {
  view: Pick<RankingView, 'notRanked' | 'notRankedOf' | 'group'>;
  unit: string | undefined;
  display: Display;
}

/** Rows below the protocol's minimum counts stand apart and say what they lack. */
export function NotRankedTable({ view, unit, display }: NotRankedTableProps) {
  const { notRanked: setups, notRankedOf: of } = view;
  if (setups.length === 0) return null;
  return (
    <Section
      id="not-ranked"
      title="Not ranked yet"
      note={`Too little is known of these to give them a place.${of > setups.length ? ` The first ${setups.length} of ${of} are listed: the filters narrow them down.` : ''}`}
      wide
    >
      <DataTable
        caption="Setups that are not ranked yet"
        captionHidden
        rows={setups}
        rowKey={(setup) => setup.setupId}
        columns={[
          {
            key: 'setup',
            header: 'Setup',
            rowHeader: true,
            cell: (setup) => (
              <>
                <Link className="link" href={`/setups/${setup.slug}`}>
                  {setup.title}
                </Link>
                <span className="block text-sm font-normal text-ink-soft">{setup.model}</span>
              </>
            ),
          },
          {
            key: 'value',
            header: 'Estimate',
            unit: unitSymbol(display.consumption),
            align: 'end',
            cell: (setup) => fittedNumber(setup, display),
          },
          {
            key: 'interval',
            header: '95 % interval',
            align: 'end',
            cell: (setup) => intervalText(setup, display),
          },
          {
            key: 'against',
            header: 'Difference',
            cell: (setup) => <Against setup={setup} view={view} unit={unit} />,
          },
          { key: 'counts', header: 'From', cell: (setup) => countText(setup) },
          { key: 'missing', header: 'Needed for a place', cell: missingText },
        ]}
      />
    </Section>
  );
}

function Against({ setup, view, unit }: { setup: RankedSetup } & Pick<NotRankedTableProps, 'view' | 'unit'>) {
  const { text, href } = againstLink(setup, view, unit);
  return href === undefined ? (
    text
  ) : (
    <Link className="link" href={href}>
      {text}
    </Link>
  );
}
