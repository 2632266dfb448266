import type { Page } from '@playwright/test';

/** Ways in which a page is looked at: each prepares the browser's page before it is opened. */
export const MODES: ReadonlyMap<string, (page: Page) => Promise<void>> = new Map([
  ['light', (page) => page.emulateMedia({ colorScheme: 'light', forcedColors: 'none', media: 'screen' })],
  ['dark', (page) => page.emulateMedia({ colorScheme: 'dark', forcedColors: 'none', media: 'screen' })],
  ['forced', (page) => page.emulateMedia({ colorScheme: 'dark', forcedColors: 'active', media: 'screen' })],
  ['print', (page) => page.emulateMedia({ colorScheme: 'light', forcedColors: 'none', media: 'print' })],
]);

export const WIDTHS = [320, 390, 768, 1280, 1920] as const;

/** People of the demo world who see what readers do not. */
export const VISITORS = ['tester', 'reviewer', 'steward'] as const;
export type Visitor = (typeof VISITORS)[number];

/** A page: its path, or the first link of a list that a pattern fits, and after it the first on that page that fits another. */
interface Place {
  path?: string;
  list?: string;
  links?: readonly RegExp[];
  /** Nobody in particular unless told. */
  as?: Visitor;
}

const at = (path: string, as?: Visitor): Place => ({ path, ...(as === undefined ? {} : { as }) });
const linked = (list: string, links: readonly RegExp[], as?: Visitor): Place => ({
  list,
  links,
  ...(as === undefined ? {} : { as }),
});

export const PLACES: ReadonlyMap<string, Place> = new Map<string, Place>([
  ['home', at('/')],
  ['rankings', at('/rankings')],
  ['rankings-raw', at('/rankings?show=raw&unit=mi%2FkWh')],
  // A comparison is reached from a model: that has one of all its setups.
  ['compare', linked('/models', [/^\/models\//, /^\/compare\?/])],
  ['factors', at('/factors')],
  ['factor', at('/factors/driveMode')],
  ['cruise-speed', at('/factors/cruiseSpeed')],
  ['estimate', at('/estimate')],
  ['estimate-of-setup', linked('/rankings', [/^\/setups\//, /^\/estimate\?/])],
  ['models', at('/models')],
  ['model', linked('/models', [/^\/models\//])],
  ['setup', linked('/rankings', [/^\/setups\//])],
  ['loops', at('/loops')],
  ['loop', linked('/loops', [/^\/loops\//])],
  ['runs', at('/runs')],
  ['run', linked('/runs', [/^\/runs\/\d+$/])],
  ['tester-page', linked('/', [/^\/testers\//])],
  ['studies', at('/studies')],
  ['study', linked('/studies', [/^\/studies\/(?!new$)[^/?]+$/])],
  ['study-publish', linked('/studies', [/^\/studies\/(?!new$)[^/?]+$/, /^\/studies\/.+\/publish/])],
  ['study-sheet', linked('/studies', [/^\/studies\/(?!new$)[^/?]+$/, /^\/studies\/.+\/sheet/])],
  ['requests', at('/requests')],
  ['request', linked('/requests', [/^\/requests\/[0-9a-f-]{36}/])],
  ['data', at('/data')],
  ['data-columns', at('/data/columns')],
  ['data-api', at('/data/api')],
  ['intervals', at('/intervals')],
  ['moderation', at('/moderation')],
  ['protocol', at('/protocol')],
  ['method', at('/method')],
  ['safety', at('/safety')],
  ['display', at('/display')],
  ['sign-in', at('/sign-in')],
  ['sign-up', at('/sign-up')],
  ['my', at('/my', 'tester')],
  ['my-cars', at('/my/cars', 'tester')],
  ['my-car', linked('/my/cars', [/^\/my\/cars\/[0-9a-f-]{36}$/], 'tester')],
  ['first-visit', at('/record/first', 'tester')],
  ['record', at('/record', 'tester')],
  ['record-run', linked('/record', [/^\/record\/[0-9a-f-]{36}$/], 'tester')],
  ['record-day', linked('/record', [/^\/record\/day\/[0-9a-f-]{36}/], 'tester')],
  ['field', at('/field', 'tester')],
  ['import', at('/import', 'tester')],
  ['notifications', at('/notifications', 'tester')],
  ['account', at('/account', 'tester')],
  ['tokens', at('/account/tokens', 'tester')],
  ['study-plan', at('/studies/new', 'tester')],
  ['queue', at('/queue', 'reviewer')],
  ['review', linked('/queue', [/^\/review\/\d+$/], 'reviewer')],
  ['corrections', at('/corrections', 'reviewer')],
  ['reports', at('/reports', 'reviewer')],
  ['shared-levels', at('/shared-levels', 'steward')],
  ['protocol-versions', at('/protocol-versions', 'steward')],
  ['people', at('/people', 'steward')],
  ['audit', at('/audit', 'steward')],
  ['hold-and-retract', at('/hold-and-retract', 'steward')],
]);
