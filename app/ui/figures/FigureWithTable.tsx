import type { ReactNode } from 'react';
import { DataTable } from '../DataTable';

export interface TwinTable {
  /** Column heads; the first column names the row. */
  columns: readonly { header: string; unit?: string; align?: 'start' | 'end' }[];
  /** Cells as they are to be read, row by row. */
  rows: readonly (readonly ReactNode[])[];
}

interface FigureWithTableProps {
  caption: ReactNode;
  children: ReactNode;
  table: TwinTable;
  /** Caption of the table; the summary line that opens it is always the same. */
  tableCaption: string;
  /** How to read it: what a mark, a bar, a band stands for. */
  reading?: ReactNode;
  id?: string;
  downloads?: ReactNode;
}

/** A figure, what it shows in a sentence, and the same numbers as a table behind a disclosure. */
export function FigureWithTable({
  caption,
  children,
  table,
  tableCaption,
  reading,
  id,
  downloads,
}: FigureWithTableProps) {
  const rows = table.rows.map((cells, index) => ({ key: String(index), cells }));
  return (
    <figure id={id} className="my-6">
      {children}
      <figcaption className="mt-3 max-w-[46rem] text-sm">
        {caption}
        {reading ? <span className="mt-1 block text-ink-soft">{reading}</span> : null}
      </figcaption>
      <details className="mt-2 text-sm">
        <summary className="inline-flex min-h-8 items-center text-accent underline underline-offset-4">
          The numbers as a table
        </summary>
        <div className="mt-2">
          <DataTable
            caption={tableCaption}
            rows={rows}
            rowKey={(row) => row.key}
            columns={table.columns.map((column, index) => ({
              key: `${index} ${column.header}`,
              header: column.header,
              unit: column.unit,
              align: column.align ?? (index === 0 ? 'start' : 'end'),
              rowHeader: index === 0,
              cell: (row: { cells: readonly ReactNode[] }) => row.cells[index],
            }))}
          />
        </div>
      </details>
      {downloads ? <div className="no-print mt-2 flex flex-wrap gap-4 text-sm">{downloads}</div> : null}
    </figure>
  );
}
