import { DataTable } from '@/app/ui/DataTable';
import type { CoverageCount } from '@/lib/stats/holds/coverage';
import type { Display } from '@/lib/units/display';
import { showShare } from '@/lib/units/show';
import { shareText } from './words';

interface HeldTableProps {
  caption: string;
  captionHidden?: boolean;
  /** What was counted, as a heading: "Runs inside". */
  inside: string;
  rows: readonly CoverageCount[];
  footnote: string;
  display: Display;
}

/** How many lay inside intervals of several widths. */
export function HeldTable({ inside: insideHeader, display, ...table }: HeldTableProps) {
  return (
    <DataTable
      {...table}
      rowKey={({ level }) => String(level)}
      columns={[
        {
          key: 'level',
          header: 'Interval',
          rowHeader: true,
          // on a phone it heads the entry, where no unit stands over it
          cell: ({ level }) => showShare(level, display, { decimals: 0 }),
        },
        { key: 'inside', header: insideHeader, align: 'end', cell: ({ inside }) => inside },
        { key: 'of', header: 'Of', align: 'end', cell: ({ of }) => of },
        {
          key: 'share',
          header: 'Share, 95 % interval',
          unit: '%',
          align: 'end',
          cell: (count) => shareText(count, display),
        },
      ]}
    />
  );
}
