import type { FigureDescription } from '@/app/ui/figures/description';
import type { RankingView } from '@/lib/registry/rankings/rankings';
import { dateText } from '@/lib/run/localDate';
import { type Display, displayParameters } from '@/lib/units/display';
import { senseOf } from '@/lib/units/sense';
import { unitSymbol } from '@/lib/units/unit';
import { hrefWith, one, type SearchParams } from './query';
import { rankingRow } from './rankingRows';

/** What the address may choose of a ranking besides its class and unit. */
const CHOSEN = ['body', 'cars', 'from', 'level', 'model', 'runs', 'show', 'tyre'] as const;

/** The ranked setups of a class on one axis. */
export function rankingFigure(view: RankingView, params: SearchParams, display: Display): FigureDescription {
  const showRaw = one(params, 'show') === 'raw';
  const rows = view.ranked.map((setup) => rankingRow(setup, display, view.rankedOf, showRaw));
  const symbol = unitSymbol(display.consumption);
  const sense = senseOf(display.consumption);
  const [first] = rows;
  const { before, total } = view.pages;
  const chosen = Object.fromEntries(CHOSEN.map((name) => [name, one(params, name)]));
  const { cruiseClassKey, world } = view.group;
  const asked = { ...chosen, ...Object.fromEntries(displayParameters(display)), world };
  return {
    address: { kind: 'ranking', key: cruiseClassKey, query: asked },
    title:
      first && before > 0
        ? `Ranked setups ${before + 1} to ${before + rows.length} of ${total} at a steady ${view.classLabel}.`
        : first
          ? `${first.label} ranks first of ${total} ${total === 1 ? 'setup' : 'setups'} at a steady ${view.classLabel}: ${first.text} ${symbol}${first.low === undefined ? '' : ` (95 % interval ${first.intervalText})`}.`
          : `No setup is ranked at a steady ${view.classLabel}.`,
    desc: rows
      .slice(0, 12)
      .map((row) => `${row.label}: ${row.text} ${symbol}, ${row.intervalText}`)
      .join('. '),
    counts: `${view.fit.runCount} runs of the class · ${rows.length} of ${view.rankedOf} ranked setups · at reference conditions`,
    source: {
      path: hrefWith('/rankings', {}, { class: cruiseClassKey, ...asked }),
      asOf: dateText(view.fit.fittedAt),
    },
    isDemo: world === 'demo',
    mark: display.mark,
    drawing:
      rows.length === 0
        ? { kind: 'none', why: 'No setup meets these filters and the protocol’s minimum counts.' }
        : {
            kind: 'interval',
            label: `Ranked setups, ${sense.bestFirst}`,
            rows,
            unit: symbol,
            axisLabel: `${sense.quantity} at reference conditions, ${symbol}`,
          },
    table: {
      caption: `Ranked setups at a steady ${view.classLabel}`,
      columns: [
        { header: 'Setup' },
        { header: 'Model', align: 'start' },
        { header: capital(sense.quantity), unit: symbol },
        { header: '95 % interval', unit: symbol },
        ...(showRaw ? [{ header: 'As measured' }] : []),
        { header: 'Rank', align: 'start' },
        { header: 'Rests on', align: 'start' },
      ],
      rows: rows.map((row) => [
        { text: row.label, href: row.href ?? '/rankings' },
        row.detail ?? '',
        row.text,
        row.intervalText ?? '–',
        ...(showRaw ? [row.before?.text ?? '–'] : []),
        row.rank ?? '–',
        row.counts ?? '',
      ]),
    },
  };
}

function capital(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
