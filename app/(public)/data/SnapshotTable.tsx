import { DataTable } from '@/app/ui/DataTable';
import { Minute, ZoneNote } from '@/app/ui/When';
import { TABLES } from '@/lib/openData/tables/allTables';
import type { SnapshotView } from '@/lib/registry/openData/snapshots';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';

/** Published snapshots, each with what came since the one before. */
export function SnapshotTable({ rows, display }: { rows: readonly SnapshotView[]; display: Display }) {
  return (
    <DataTable
      caption={<ZoneNote />}
      rows={rows}
      rowKey={({ name }) => name}
      columns={[
        {
          key: 'name',
          header: 'Snapshot',
          rowHeader: true,
          cell: ({ name, number }) => (
            <>
              {/* a file, not a page: nothing is fetched before it is asked for */}
              <a className="link break-all" href={`/data/${name}.zip`} download>
                {name}.zip
              </a>
              <span className="block text-ink-soft">no. {number}</span>
            </>
          ),
        },
        { key: 'asOf', header: 'As of', cell: ({ asOf }) => <Minute at={asOf.toISOString()} /> },
        {
          key: 'runs',
          header: 'Runs',
          align: 'end',
          answer: true,
          cell: ({ rows: counts }) => counts.runs ?? 0,
        },
        {
          key: 'size',
          header: 'Size',
          unit: 'MB',
          align: 'end',
          cell: ({ sizeBytes }) => showNumber(sizeBytes / 1e6, 1, display),
        },
        {
          key: 'changes',
          header: 'Since the one before',
          wide: true,
          cell: ({ changes }) => changeWords(changes),
        },
        { key: 'licence', header: 'Licence', cell: ({ licence }) => licence.value },
        { key: 'method', header: 'Method', cell: ({ methodVersion }) => methodVersion },
        {
          key: 'sha256',
          header: 'SHA-256, key',
          wide: true,
          cell: ({ sha256, keyId }) => (
            <>
              <span className="num break-all">{sha256}</span>
              <span className="num block text-ink-soft">{keyId}</span>
            </>
          ),
        },
      ]}
    />
  );
}

const TITLES = new Map(TABLES.map(({ name, title }) => [name, title.toLowerCase()]));

/** "+12 runs, −1 studies"; where only what is in the rows differs, that. */
function changeWords(changes: SnapshotView['changes']): string {
  if (changes === null) return 'the first one';
  if (changes.length === 0) return 'other values, as many rows';
  return changes
    .map(({ table, rows }) => `${rows < 0 ? '−' : '+'}${Math.abs(rows)} ${TITLES.get(table) ?? table}`)
    .join(', ');
}
