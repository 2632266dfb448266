import type { ReactNode } from 'react';
import { cellText, type FigureDescription, type TwinTable } from '@/app/ui/figures/description';
import { kindOf } from '@/app/ui/figures/figureKinds';
import type { Drawing } from '@/app/ui/figures/ResponsiveSvg';
import { textWidth } from '@/app/ui/figures/textFit';
import { darkPalette, lightPalette, type Palette, type PaletteName } from '@/app/ui/palette';
import { dayWords } from '@/lib/run/localDate';

export const EMBED_THEMES = ['auto', 'light', 'dark'] as const;
export type EmbedTheme = (typeof EMBED_THEMES)[number];

/** All of a live figure: its page has no other file, so that this is what it costs whoever frames it. */
export const MOST_BYTES = 30_000;

/** Letters are those of the reader's own system, which may be wider than the face that the drawing measures by. */
const DRAWN_TEXT = 14;
const SHOWN_TEXT = 12.6;
const WIDE = 700;
const NARROW = 350;

/** A row, drawn twice and in the table, takes more than 500 bytes: no more of them would fit. */
const MOST_ROWS = 60;

interface EmbedOptions {
  theme: EmbedTheme;
  /** The whole address of the page that the figure is of. */
  address: string;
}

/** As many rows as fit, the latest of them where rows follow each other in time. */
export async function embedPage(figure: FigureDescription, options: EmbedOptions): Promise<string> {
  const all = figure.table.rows.length;
  if (all <= MOST_ROWS) {
    const whole = await pageOf(figure, options, '');
    if (fits(whole)) return whole;
  }
  const none: FigureDescription = {
    ...figure,
    drawing: { kind: 'none', why: 'It has more than a live figure can hold.' },
    table: { ...figure.table, rows: [] },
  };
  let best = await pageOf(none, options, '');
  // A page with fewer rows is never the longer one.
  for (let [low, high] = [1, Math.min(all - 1, MOST_ROWS)]; low <= high; ) {
    const kept = Math.floor((low + high) / 2);
    const page = await pageOf(withRows(figure, kept), options, `${kept} of ${all} rows`);
    if (fits(page)) [best, low] = [page, kept + 1];
    else high = kept - 1;
  }
  return best;
}

const fits = (page: string) => Buffer.byteLength(page) <= MOST_BYTES;

/** About how high it is at a width, in CSS pixels: nothing in it can tell the page that frames it. */
export function embedHeight(figure: FigureDescription, width: number): number {
  const room = Math.max(160, width - 24);
  const lines = (text: string, size: number) => Math.max(1, Math.ceil((1.12 * textWidth(text, size)) / room));
  const drawn = figure.drawing.kind === 'none' ? 40 : drawingOf(figure, width >= WIDE - 80).height;
  const scale = Math.min(1, room / (width >= WIDE - 80 ? WIDE : NARROW));
  return Math.ceil(24 + 24 * lines(figure.title, 17) + drawn * scale + 20 * lines(figure.counts, 14) + 150);
}

function withRows(figure: FigureDescription, kept: number): FigureDescription {
  const { drawing, table } = figure;
  const isInTime = drawing.kind === 'interval' && drawing.ordered === true;
  const some = <Row,>(rows: readonly Row[], count: number) =>
    isInTime ? rows.slice(Math.max(0, rows.length - count)) : rows.slice(0, count);
  const cut =
    drawing.kind === 'interval'
      ? { ...drawing, rows: some(drawing.rows, kept) }
      : drawing.kind === 'forest'
        ? { ...drawing, rows: some(drawing.rows, kept) }
        : drawing;
  return { ...figure, drawing: cut, table: { ...table, rows: some(table.rows, kept) } };
}

async function pageOf(
  figure: FigureDescription,
  { theme, address }: EmbedOptions,
  part: string,
): Promise<string> {
  // The renderer is loaded on call because the framework refuses it as a plain import.
  const { renderToStaticMarkup } = await import('react-dom/server');
  const { drawing, title, counts, source, isDemo, table } = figure;
  const legend = drawing.kind === 'none' ? [] : kindOf(drawing).legend(drawing);
  const body = renderToStaticMarkup(
    <main>
      <h1>{title}</h1>
      {legend.length > 0 ? (
        <ul>
          {legend.map(({ label, mark }) => (
            <li key={label}>
              <svg width="28" height="12" viewBox="0 0 28 12" aria-hidden="true">
                {mark}
              </svg>{' '}
              {label}
            </li>
          ))}
        </ul>
      ) : null}
      {drawing.kind === 'none' ? (
        <p>{drawing.why}</p>
      ) : (
        <>
          <Svg className="wide" width={WIDE} drawing={drawingOf(figure, true)} />
          <Svg className="narrow" width={NARROW} drawing={drawingOf(figure, false)} />
        </>
      )}
      <p className="soft">
        {[counts, part, `as of ${dayWords(source.asOf)}`, isDemo ? 'demo world: invented data' : '']
          .filter(Boolean)
          .join(' · ')}
      </p>
      {table.rows.length > 0 ? (
        <details>
          <summary>The numbers as a table</summary>
          <Twin table={table} />
        </details>
      ) : null}
      <p className="soft">
        Posted limits and local law come first. Estimates, not promises.{' '}
        <a href={address} target="_blank" rel="noopener">
          Evenloop: all of it
        </a>
      </p>
    </main>,
  ).replaceAll(/ data-row="\d+"/g, '');
  const head = renderToStaticMarkup(
    <>
      <meta charSet="utf-8" />
      <meta name="viewport" content="width=device-width, initial-scale=1" />
      <meta name="robots" content="noindex" />
      <title>{title}</title>
      <link rel="canonical" href={address} />
    </>,
  );
  return `<!doctype html><html lang="en-GB"><head>${head}<style>${styleOf(body, theme)}</style></head><body>${body}</body></html>\n`;
}

function drawingOf(figure: FigureDescription, isWide: boolean): Drawing {
  const { drawing, mark } = figure;
  if (drawing.kind === 'none') return { height: 0, content: null };
  const frame = { width: isWide ? WIDE : NARROW, compact: !isWide, text: DRAWN_TEXT, mark };
  return kindOf(drawing).draw(frame, drawing);
}

/** Not for those who hear the page: the sentence says what it shows, and the table has every number once. */
function Svg({ className, width, drawing }: { className: string; width: number; drawing: Drawing }) {
  return (
    <svg
      className={className}
      viewBox={`0 0 ${width} ${Math.ceil(drawing.height)}`}
      fontSize={SHOWN_TEXT}
      aria-hidden="true"
    >
      {drawing.content as ReactNode}
    </svg>
  );
}

function Twin({ table }: { table: TwinTable }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a scrolling region must be reachable by keyboard
    <section aria-label={table.caption} tabIndex={0}>
      <table>
        <caption>{table.caption}</caption>
        <thead>
          <tr>
            {table.columns.map(({ header, unit }) => (
              <th key={`${header} ${unit ?? ''}`} scope="col">
                {unit ? `${header}, ${unit}` : header}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {table.rows.map((row, at) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: rendered once, as text
            <tr key={at}>
              {row.map((cell, column) =>
                column === 0 ? (
                  <th key={table.columns[column]?.header} scope="row">
                    {cellText(cell)}
                  </th>
                ) : (
                  <td key={table.columns[column]?.header}>{cellText(cell)}</td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

const RULES =
  'body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.45 system-ui,"Segoe UI",Roboto,Helvetica,Arial,sans-serif}' +
  'main{padding:12px}h1{font-size:17px;line-height:1.4;margin:0 0 8px}ul{list-style:none;margin:0 0 8px;padding:0;font-size:13px;color:var(--ink-soft)}' +
  'li{display:inline-block;margin-right:16px}svg{fill:var(--ink)}.wide,.narrow{display:block;width:100%;height:auto}.wide{max-width:900px}.narrow{max-width:460px}' +
  `.wide{display:none}@media (min-width:${WIDE - 80}px){.wide{display:block}.narrow{display:none}}` +
  '.soft{font-size:14px;color:var(--ink-soft);margin:8px 0}a,summary{color:var(--accent)}summary{cursor:pointer;font-size:14px;padding:5px 0}' +
  'section{overflow-x:auto}table{border-collapse:collapse;font-size:14px}caption{text-align:left;color:var(--ink-soft)}' +
  'th,td{text-align:left;padding:3px 14px 3px 0;border-bottom:1px solid var(--rule);font-weight:400;vertical-align:top}thead th{font-weight:600}';

/** Only the colours that the page uses, in both themes or in the one that its address names. */
function styleOf(body: string, theme: EmbedTheme): string {
  const used = [...new Set([...`${body}${RULES}`.matchAll(/var\(--([a-z-]+)\)/g)].map(([, name]) => name))];
  const colours = (palette: Palette) =>
    used.map((name) => `--${name}:${palette[name as PaletteName]}`).join(';');
  const light = `:root{color-scheme:light;${colours(lightPalette)}}`;
  const dark = `:root{color-scheme:dark;${colours(darkPalette)}}`;
  if (theme === 'light') return light + RULES;
  if (theme === 'dark') return dark + RULES;
  return `${light}@media (prefers-color-scheme:dark){${dark}}${RULES}`;
}
