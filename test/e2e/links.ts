import type { Page } from '@playwright/test';

/** The first link of a list page to one of its things. */
export async function firstLink(page: Page, list: string, pattern: RegExp): Promise<string> {
  await page.goto(list);
  const hrefs = await page
    .locator('main a[href]')
    .evaluateAll((links) => links.map((link) => link.getAttribute('href')));
  const href = hrefs.find((candidate) => candidate !== null && pattern.test(candidate));
  if (!href) throw new Error(`${list} links to nothing like ${pattern}`);
  return href;
}
