import { type ReactNode, useId } from 'react';
import { Link } from './Link';
import { unbroken } from './unbroken';

export interface Column<Row> {
  key: string;
  header: ReactNode;
  /** Printed under the header; numbers in the cells then need no unit of their own. */
  unit?: string;
  /** Beside its cell where rows are stacked and room is scarce; its header with the unit unless told. */
  label?: string;
  /** Numbers end-aligned so that their digits line up. */
  align?: 'start' | 'end';
  /** Running text: keeps a readable width. */
  wide?: boolean;
  /** Marks the cell that names the row. */
  rowHeader?: boolean;
  /** What a reader came for: on a narrow screen it follows the row's name. */
  answer?: boolean;
  /** A column that can be sorted by following a link, and how it is sorted now. */
  sort?: { href: string; direction?: 'ascending' | 'descending' };
  cell: (row: Row) => ReactNode;
}

interface DataTableProps<Row> {
  caption: ReactNode;
  captionHidden?: boolean;
  columns: readonly Column<Row>[];
  rows: readonly Row[];
  rowKey: (row: Row) => string;
  /** Shown in place of rows when there are none. */
  empty?: ReactNode;
  footnote?: ReactNode;
}

/** From here on, and with running text in any of them, a phone cannot show every column at once: rows are stacked. */
const MANY_COLUMNS = 4;

/**
 * A table that scrolls sideways inside its own labelled region, so the page never does. Where it is narrow, a table of
 * many columns or of running text stacks each row: its name, the answer, then the other cells with their headings (see globals.css). The
 * roles say that it stays a table, which `display` would take away.
 */
export function DataTable<Row>(props: DataTableProps<Row>) {
  return <TableWithId {...props} captionId={useId()} />;
}

/** The same for markup that is rendered apart from its page. */
export function TableWithId<Row>({
  captionId,
  caption,
  captionHidden = false,
  columns,
  rows,
  rowKey,
  empty,
  footnote,
}: DataTableProps<Row> & { captionId: string }) {
  const isStacked = columns.length >= MANY_COLUMNS || columns.some(({ wide }) => wide);
  return (
    <div className="@container">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard */}
      <section aria-labelledby={captionId} tabIndex={0} className="relative overflow-x-auto">
        {/* biome-ignore-start lint/a11y/noRedundantRoles: a stacked table is laid out as blocks, which takes its own roles away */}
        <table role="table" className={`w-full border-collapse text-sm ${isStacked ? 'stacked' : ''}`}>
          <caption
            id={captionId}
            className={captionHidden ? 'sr-only' : 'pb-2 text-left text-sm text-ink-soft'}
          >
            {unbroken(caption)}
          </caption>
          <thead role="rowgroup">
            <tr role="row" className="border-y border-rule-strong align-bottom">
              {columns.map((column) => (
                <th
                  key={column.key}
                  scope="col"
                  role="columnheader"
                  aria-sort={column.sort ? (column.sort.direction ?? 'none') : undefined}
                  className={`py-2 pr-5 font-semibold last:pr-0 ${column.align === 'end' ? 'text-right' : 'text-left'}`}
                >
                  {column.sort ? <SortLink column={column} /> : unbroken(column.header)}
                  {column.unit ? (
                    <span className="block font-normal text-ink-soft"> {column.unit}</span>
                  ) : null}
                </th>
              ))}
            </tr>
          </thead>
          <tbody role="rowgroup">
            {rows.map((row) => (
              <tr key={rowKey(row)} role="row" className="border-b border-rule align-top">
                {columns.map((column) => {
                  const place = `py-2 pr-5 last:pr-0 ${widthOf(column)} ${column.answer ? 'stacked-answer' : ''}`;
                  return column.rowHeader ? (
                    <th key={column.key} scope="row" role="rowheader" className={`${place} font-normal`}>
                      {column.cell(row)}
                    </th>
                  ) : (
                    <td key={column.key} role="cell" className={place} data-label={labelOf(column)}>
                      {column.cell(row)}
                    </td>
                  );
                })}
              </tr>
            ))}
            {rows.length === 0 ? (
              <tr role="row">
                <td role="cell" colSpan={columns.length} className="py-4 text-ink-soft">
                  {empty ?? 'Nothing here yet.'}
                </td>
              </tr>
            ) : null}
          </tbody>
        </table>
        {/* biome-ignore-end lint/a11y/noRedundantRoles: as above */}
      </section>
      {footnote ? <div className="mt-2 max-w-[46rem] text-sm text-ink-soft">{unbroken(footnote)}</div> : null}
    </div>
  );
}

/** The heading that a stacked cell carries with it. */
function labelOf<Row>({ header, unit, label }: Column<Row>): string | undefined {
  if (label !== undefined) return unbroken(label);
  if (typeof header !== 'string') return undefined;
  return unbroken(unit === undefined ? header : `${header}, ${unit}`);
}

/** Numbers stay on one line; words may wrap, but not down to one word a line. */
function widthOf<Row>(column: Column<Row>): string {
  if (column.align === 'end') return 'text-right whitespace-nowrap';
  if (column.wide) return 'min-w-64 text-left';
  return column.rowHeader ? 'min-w-24 @xs:min-w-32 text-left' : 'min-w-24 text-left';
}

function SortLink<Row>({ column }: { column: Column<Row> }) {
  const direction = column.sort?.direction;
  return (
    <Link href={column.sort?.href ?? ''} className="link inline-flex min-h-6 items-center gap-1 text-ink">
      {unbroken(column.header)}
      <svg viewBox="0 0 8 12" className="h-3 w-2 shrink-0" aria-hidden="true" focusable="false">
        <path d="M4 0l4 5H0z" fill={direction === 'ascending' ? 'var(--accent)' : 'var(--rule-strong)'} />
        <path d="M4 12L0 7h8z" fill={direction === 'descending' ? 'var(--accent)' : 'var(--rule-strong)'} />
      </svg>
    </Link>
  );
}
