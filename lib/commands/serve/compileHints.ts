import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';

const HINT = '//# allFunctionsCalledOnLoad\n';

const manifestSchema = z.object({ rootMainFiles: z.array(z.string()).min(1) });

/**
 * Marks the framework's own scripts, which every page runs at once, as code that is called on load: the browser then
 * compiles them while they arrive and beside the page, not in one long task when they start (V8, explicit compile
 * hints, a comment in the first line; to other engines it is a comment). `npm run bench -- blocking` shows what that
 * is worth: on a slow phone most of the time in which a page that can be seen does not answer.
 */
export async function markCalledOnLoad(built: string): Promise<void> {
  const manifest: unknown = JSON.parse(await readFile(join(built, 'build-manifest.json'), 'utf8'));
  for (const file of manifestSchema.parse(manifest).rootMainFiles) {
    const script = await readFile(join(built, file), 'utf8');
    if (!script.startsWith(HINT)) await writeFile(join(built, file), HINT + script);
  }
}
