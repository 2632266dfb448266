import Link from 'next/link';
import { type ReactNode, useId } from 'react';

export interface Column<Row> {
  key: string;
  header: ReactNode;
  /** Printed under the header; numbers in the cells then need no unit of their own. */
  unit?: string;
  /** Numbers end-aligned so that their digits line up. */
  align?: 'start' | 'end';
  /** Running text: keeps a readable width and lets the table scroll instead. */
  wide?: boolean;
  /** Marks the cell that names the row. */
  rowHeader?: boolean;
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

/** From here on a phone is unlikely to show every column at once. */
const manyColumns = 5;

/** A table that scrolls sideways inside its own labelled region, so the page never does. */
export function DataTable<Row>({
  caption,
  captionHidden = false,
  columns,
  rows,
  rowKey,
  empty,
  footnote,
}: DataTableProps<Row>) {
  const captionId = useId();
  return (
    <div className="@container">
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard */}
      <section aria-labelledby={captionId} tabIndex={0} className="relative overflow-x-auto">
        <table className="w-full border-collapse text-sm">
          <caption
            id={captionId}
            className={captionHidden ? 'sr-only' : 'pb-2 text-left text-sm text-ink-soft'}
          >
            {caption}
          </caption>
          <thead>
            <tr className="border-y border-rule-strong align-bottom">
              {columns.map((column) => (
                <th
                  key={column.key}
                  scope="col"
                  aria-sort={column.sort ? (column.sort.direction ?? 'none') : undefined}
                  className={`py-2 pr-5 font-semibold last:pr-0 ${column.align === 'end' ? 'text-right' : 'text-left'}`}
                >
                  {column.sort ? <SortLink column={column} /> : column.header}
                  {column.unit ? (
                    <span className="block font-normal text-ink-soft"> {column.unit}</span>
                  ) : null}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={rowKey(row)} className="border-b border-rule align-top">
                {columns.map((column) => {
                  const place = `py-2 pr-5 last:pr-0 ${widthOf(column)}`;
                  return column.rowHeader ? (
                    <th key={column.key} scope="row" className={`${place} font-normal`}>
                      {column.cell(row)}
                    </th>
                  ) : (
                    <td key={column.key} className={place}>
                      {column.cell(row)}
                    </td>
                  );
                })}
              </tr>
            ))}
            {rows.length === 0 ? (
              <tr>
                <td colSpan={columns.length} className="py-4 text-ink-soft">
                  {empty ?? 'Nothing here yet.'}
                </td>
              </tr>
            ) : null}
          </tbody>
        </table>
      </section>
      {columns.length >= manyColumns ? (
        <p aria-hidden="true" className="mt-1 text-xs text-ink-soft @2xl:hidden">
          Scroll the table sideways for all {columns.length} columns.
        </p>
      ) : null}
      {footnote ? <div className="mt-2 max-w-[46rem] text-sm text-ink-soft">{footnote}</div> : null}
    </div>
  );
}

/** Numbers stay on one line; words may wrap, but not down to one word a line. */
function widthOf<Row>(column: Column<Row>): string {
  if (column.align === 'end') return 'text-right whitespace-nowrap';
  if (column.wide) return 'min-w-64 text-left';
  return column.rowHeader ? 'min-w-32 text-left' : 'min-w-24 text-left';
}

function SortLink<Row>({ column }: { column: Column<Row> }) {
  const direction = column.sort?.direction;
  return (
    <Link href={column.sort?.href ?? ''} className="link inline-flex min-h-6 items-center gap-1 text-ink">
      {column.header}
      <svg viewBox="0 0 8 12" className="h-3 w-2 shrink-0" aria-hidden="true" focusable="false">
        <path d="M4 0l4 5H0z" fill={direction === 'ascending' ? 'var(--accent)' : 'var(--rule-strong)'} />
        <path d="M4 12L0 7h8z" fill={direction === 'descending' ? 'var(--accent)' : 'var(--rule-strong)'} />
      </svg>
    </Link>
  );
}
