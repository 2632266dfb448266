import { expect, type Locator, type Page } from '@playwright/test';

/** More stops than any page has between two that somebody wants. */
const MOST_STOPS = 200;

/** Goes on with the Tab key, as somebody without a pointer does, until there. */
export async function tabTo(page: Page, there: Locator): Promise<void> {
  await expect(there).toBeVisible();
  for (let stop = 0; stop < MOST_STOPS; stop += 1) {
    await page.keyboard.press('Tab');
    if (await there.evaluate((element) => element === document.activeElement)) return;
  }
  throw new Error(`${there} is not among the next ${MOST_STOPS} stops of the Tab key`);
}
