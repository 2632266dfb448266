import type { Page } from '@playwright/test';

/** Ways in which a page is looked at: each prepares the browser's page before it is opened. */
export const MODES: ReadonlyMap<string, (page: Page) => Promise<void>> = new Map([
  ['light', (page) => page.emulateMedia({ colorScheme: 'light', forcedColors: 'none', media: 'screen' })],
  ['dark', (page) => page.emulateMedia({ colorScheme: 'dark', forcedColors: 'none', media: 'screen' })],
  ['forced', (page) => page.emulateMedia({ colorScheme: 'dark', forcedColors: 'active', media: 'screen' })],
  ['print', (page) => page.emulateMedia({ colorScheme: 'light', forcedColors: 'none', media: 'print' })],
]);

export const WIDTHS = [320, 390, 768, 1280, 1920] as const;

/** Pages by name; a pattern stands for the first link of a list that it fits. */
export const PLACES: ReadonlyMap<string, string | { list: string; link: RegExp }> = new Map<
  string,
  string | { list: string; link: RegExp }
>([
  ['home', '/'],
  ['rankings', '/rankings'],
  ['rankings-raw', '/rankings?show=raw&unit=mi%2FkWh'],
  ['compare', { list: '/models', link: /^\/models\// }],
  ['factors', '/factors'],
  ['factor', '/factors/driveMode'],
  ['cruise-speed', '/factors/cruiseSpeed'],
  ['estimate', '/estimate'],
  ['models', '/models'],
  ['model', { list: '/models', link: /^\/models\// }],
  ['setup', { list: '/rankings', link: /^\/setups\// }],
  ['loops', '/loops'],
  ['loop', { list: '/loops', link: /^\/loops\// }],
  ['runs', '/runs'],
  ['run', { list: '/runs', link: /^\/runs\/\d+$/ }],
  ['protocol', '/protocol'],
  ['method', '/method'],
  ['safety', '/safety'],
  ['display', '/display'],
  ['sign-in', '/sign-in'],
  ['sign-up', '/sign-up'],
]);
