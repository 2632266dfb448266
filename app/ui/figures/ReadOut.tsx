'use client';

import { type KeyboardEvent, type PointerEvent, type ReactNode, useRef, useState } from 'react';

/** Which way a key steps through the rows; ends are farther than any figure has rows. */
const STEPS: ReadonlyMap<string, number> = new Map([
  ['ArrowRight', 1],
  ['ArrowDown', 1],
  ['ArrowLeft', -1],
  ['ArrowUp', -1],
  ['Home', -1e9],
  ['End', 1e9],
]);

/**
 * Reads a figure out by hover, tap and keyboard. A mark names a row of the figure's table; what is said is that row, so
 * that a mark can never say what the table does not.
 */
export function ReadOut({ children }: { children: ReactNode }) {
  const root = useRef<HTMLDivElement>(null);
  const [shown, show] = useState<{ row: number; words: string }>();

  function marks(): Element[] {
    const all = root.current?.querySelectorAll('[data-row]') ?? [];
    return [...all].filter((mark) => mark.getClientRects().length > 0);
  }

  function choose(row: number | undefined) {
    for (const mark of marks())
      mark.toggleAttribute('data-current', Number(mark.getAttribute('data-row')) === row);
    const table = root.current?.closest('figure')?.querySelector<HTMLTableElement>('details table');
    show(row === undefined || !table ? undefined : { row, words: wordsOf(table, row) });
  }

  function point({ clientX, clientY }: PointerEvent) {
    let nearest: Element | undefined;
    let least = 40;
    for (const mark of marks()) {
      const { left, right, top, bottom } = mark.getBoundingClientRect();
      const apart = Math.hypot(
        Math.max(left - clientX, 0, clientX - right),
        Math.max(top - clientY, 0, clientY - bottom),
      );
      // Of marks that lie in one another the later, drawn on top, is meant.
      if (apart <= least) [nearest, least] = [mark, apart];
    }
    const row = nearest ? Number(nearest.getAttribute('data-row')) : undefined;
    if (row !== shown?.row) choose(row);
  }

  function step(event: KeyboardEvent) {
    const by = STEPS.get(event.key);
    if (event.key === 'Escape') choose(undefined);
    if (by === undefined || event.target !== event.currentTarget) return;
    event.preventDefault();
    const rows = [...new Set(marks().map((mark) => Number(mark.getAttribute('data-row'))))].sort(
      (a, b) => a - b,
    );
    const at = shown ? rows.indexOf(shown.row) : by > 0 ? -1 : rows.length;
    choose(rows[Math.max(0, Math.min(rows.length - 1, at + by))]);
  }

  return (
    <div>
      {/* biome-ignore lint/a11y/useSemanticElements: no element is a figure that can be stepped through */}
      <div
        ref={root}
        role="group"
        aria-label="Values of the figure. Arrow keys read them one by one."
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the values are stepped through by keyboard
        tabIndex={0}
        onPointerMove={point}
        onPointerDown={point}
        onPointerLeave={(event) => event.pointerType === 'mouse' && choose(undefined)}
        onKeyDown={step}
      >
        {children}
      </div>
      <output className="no-print num mt-1 block min-h-6 text-sm">{shown?.words}</output>
    </div>
  );
}

/** "Low: Difference, % −1.3; All pairs, 95 %, % −2.3 to −0.2": the row's name, then each cell with its head. */
function wordsOf(table: HTMLTableElement, row: number): string {
  const heads = [...(table.tHead?.rows[0]?.cells ?? [])].map((cell) => cell.textContent ?? '');
  const cells = [...(table.tBodies[0]?.rows[row]?.cells ?? [])].map((cell) => cell.textContent ?? '');
  const said = cells.map((cell, index) => [heads[index]?.replace(/\s+/g, ' ').trim(), cell.trim()]);
  const [name, ...rest] = said;
  return `${name?.[1] ?? ''}: ${rest
    .filter(([, cell]) => cell && cell !== '–')
    .map(([head, cell]) => `${head} ${cell}`)
    .join('; ')}`;
}
