import { randomBytes } from 'node:crypto';
import { expect, type Page } from '@playwright/test';
import sharp from 'sharp';

/** Another picture each time, as no photo is on two runs; reviewers of the demo world have the drawn displays. */
export async function photo() {
  const background = `#${randomBytes(3).toString('hex')}`;
  const buffer = await sharp({ create: { width: 64, height: 48, channels: 3, background } })
    .png()
    .toBuffer();
  return { name: 'display.png', mimeType: 'image/png', buffer };
}

/** Types the form of a run into the page, field by field; fields that the page does not have are left out. */
export async function fill(page: Page, form: Record<string, string>): Promise<void> {
  for (const [name, value] of Object.entries(form)) {
    const control = page.locator(`form[aria-label] [name="${name}"]`).first();
    if (value === '' || (await control.count()) === 0) continue;
    const [tag, type] = await control.evaluate((element) => [element.tagName, element.getAttribute('type')]);
    if (type === 'radio') await page.locator(`[name="${name}"][value="${value}"]`).check();
    else if (tag === 'SELECT') await control.selectOption(value);
    else if (type !== 'hidden') await control.fill(value);
  }
}

/** The whole label of the option that contains the text. */
export async function optionWith(page: Page, name: string, text: string): Promise<string> {
  const option = page.locator(`[name="${name}"] option`, { hasText: text }).first();
  await expect(option).toBeAttached();
  return (await option.textContent()) ?? '';
}
