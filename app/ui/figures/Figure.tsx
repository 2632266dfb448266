import { useId } from 'react';
import { TableWithId } from '../DataTable';
import { Still } from '../Still';
import { unbroken } from '../unbroken';
import type { FigureDescription, TwinCell, TwinTable } from './description';
import { FigureFiles } from './FigureFiles';
import { kindOf } from './figureKinds';
import { IntervalPlot } from './IntervalPlot';
import { Legend } from './Legend';
import { ReadOut } from './ReadOut';
import { ResponsiveSvg } from './ResponsiveSvg';

interface FigureProps {
  figure: FigureDescription;
  id?: string;
  /** The page has just said the figure's sentence: it stays in the picture's files and is not said twice here. */
  isTitleSaid?: boolean;
  /** One of several small ones under their sentences, whose marks the page explains once for all. */
  isSmall?: boolean;
}

/** A figure on a page: the drawing with its read-out, what it shows in a sentence, its numbers as a table, its files. */
export function Figure({ figure, id, isTitleSaid = false, isSmall = false }: FigureProps) {
  const tableId = useId();
  const [first, rest] = firstSentence(unbroken(figure.reading ?? ''));
  const files = figure.address ? <FigureFiles figure={figure} address={figure.address} /> : null;
  return (
    <figure id={id} className={isSmall ? 'min-w-0' : 'my-6'}>
      <Drawn figure={figure} hasLegend={!isSmall} />
      {isSmall ? null : (
        <figcaption className="mt-2 max-w-[46rem] text-sm">
          {isTitleSaid ? null : unbroken(figure.title)}
          {first === '' ? null : <span className="mt-1 block text-ink-soft">{first}</span>}
        </figcaption>
      )}
      <div className="figure-tools mt-2 flex flex-wrap items-start gap-x-4 gap-y-2 text-sm">
        {rest === '' ? null : (
          <details className="min-w-0 max-w-[46rem]">
            <summary className="disclosure">How to read it</summary>
            <p className="mt-2 text-ink-soft">{rest}</p>
          </details>
        )}
        <details className="min-w-0 max-w-full open:w-full">
          <summary className="disclosure">{isSmall ? 'Numbers and files' : 'The numbers as a table'}</summary>
          <Still className="mt-2">
            <Twin table={figure.table} id={tableId} />
          </Still>
          {isSmall ? files : null}
        </details>
        {isSmall || files === null ? null : (
          <details className="no-print min-w-0">
            <summary className="disclosure">Save this figure</summary>
            {files}
          </details>
        )}
      </div>
    </figure>
  );
}

/** What everyone needs, and what may be looked up. */
function firstSentence(text: string): [first: string, rest: string] {
  const end = text.indexOf('. ');
  return end < 0 ? [text, ''] : [text.slice(0, end + 1), text.slice(end + 2)];
}

function Drawn({ figure, hasLegend }: { figure: FigureDescription; hasLegend: boolean }) {
  const { drawing, mark } = figure;
  if (drawing.kind === 'none') {
    return <p className="border-y border-dashed border-rule-strong py-6 text-ink-soft">{drawing.why}</p>;
  }
  const { legend, draw } = kindOf(drawing);
  return (
    <ReadOut>
      {hasLegend ? <Legend items={legend(drawing)} /> : null}
      {drawing.kind === 'interval' ? (
        <IntervalPlot {...drawing} mark={mark} />
      ) : (
        // A rose stays a rose: it has no axis that a wide place would stretch.
        <div className={drawing.kind === 'rose' ? 'max-w-[24rem]' : undefined}>
          <ResponsiveSvg draw={(frame) => draw({ ...frame, mark }, drawing)} />
        </div>
      )}
    </ReadOut>
  );
}

function Twin({ table, id }: { table: TwinTable; id: string }) {
  return (
    <TableWithId
      captionId={id}
      caption={table.caption}
      rows={table.rows.map((cells, index) => ({ key: String(index), cells }))}
      rowKey={(row) => row.key}
      columns={table.columns.map((column, index) => ({
        key: `${index} ${column.header}`,
        header: column.header,
        unit: column.unit,
        align: column.align ?? (index === 0 ? 'start' : 'end'),
        rowHeader: index === 0,
        cell: (row: { cells: readonly TwinCell[] }) => <Cell cell={row.cells[index] ?? ''} />,
      }))}
    />
  );
}

function Cell({ cell }: { cell: TwinCell }) {
  if (typeof cell === 'string') return cell;
  const links = 'text' in cell ? [cell] : cell;
  return links.map(({ text, href }, index) => (
    <span key={href}>
      {index > 0 ? ', ' : null}
      <a className="link" href={href}>
        {text}
      </a>
    </span>
  ));
}
