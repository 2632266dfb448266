import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import type { Page } from '@playwright/test';
import type axe from 'axe-core';

const source = readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

type Narrowed = Pick<axe.RunOptions, 'runOnly'>;

/**
 * What breaks a rule of axe, in words. The checker is put into a page once and asked as often as needed: bringing it
 * anew for each question takes longer than the question. No page holds a frame, so none is gathered from.
 */
export async function axeViolations(page: Page, narrowed: Narrowed = {}, within = 'html'): Promise<string[]> {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(await source);
  return page.evaluate(
    async ([options, selector]) => {
      const { axe } = window as unknown as { axe: typeof import('axe-core') };
      // Nor need it write down where everything stands that passed.
      const { violations } = await axe.run(selector, { ...options, resultTypes: ['violations'] });
      return violations.map(
        ({ id, nodes }) =>
          `${id}: ${nodes.map(({ target, html }) => `${target} ${html.slice(0, 200)}`).join(' ')}`,
      );
    },
    [narrowed, within] as const,
  );
}
