import { expect, test } from '@playwright/test';
import { recording } from '../helpers/recordings';
import { signInAs, TESTER } from './people';

test('a recording and pasted station reports fill a run’s form, and nothing typed is overwritten', async ({
  page,
}) => {
  test.setTimeout(120_000);
  await signInAs(page, TESTER, '/record');
  await page.getByRole('button', { name: 'Start a new run' }).click();
  await page.waitForURL(/\/record\/[0-9a-f-]{36}$/);
  const form = page.url();
  await page.locator('[name="startedAtLocal"]').fill('2026-05-14T09:30');
  await page.locator('[name="utcOffsetMin"]').selectOption('60');
  await page.locator('[name="tripDistance"]').fill('107.6');
  await page.locator('[name="tripDuration"]').fill('58');
  await page.locator('[name="cruiseClassKey"]').selectOption('mph-70');

  // The example reports are our own, in the form of WMO FM 15.
  await page
    .locator('[name="stationReport"]')
    .fill(
      'METAR QQNM 140820Z 24006KT 9999 FEW035 14/08 Q1015=\nMETAR QQNM 140920Z 25007KT 9999 FEW035 16/09 Q1014=',
    );
  await page.getByRole('button', { name: 'Read the station reports' }).click();
  await page.getByRole('button', { name: 'Fill the conditions from them' }).click();
  await expect(page.locator('[name="airTemperature"]')).toHaveValue(/^1[45]/);
  await expect(page.locator('[name="airPressure"]')).not.toHaveValue('');
  await expect(page.locator('[data-draft-status="saved"]')).toBeVisible();

  await page.goto(`${form}/trace`);
  await page
    .locator('input[name="trace"]')
    .setInputFiles({ name: 'loop.gpx', mimeType: 'application/gpx+xml', buffer: Buffer.from(recording()) });
  await page.getByRole('button', { name: 'Send the recording' }).click();
  await expect(page.getByRole('heading', { name: 'What was read' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'For the form' })).toBeVisible();

  await page.goto(form);
  await expect(page.locator('[name="tripDistance"]')).toHaveValue('107.6');
  await expect(page.locator('[name="airTemperature"]')).toHaveValue(/^1[45]/);
});
