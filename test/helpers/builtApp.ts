import { ensureBuilt } from '@/lib/commands/serve/webBuild';
import { keepStacks } from './keepStacks';

/** Once a test run: the app is built as its sources are, so that tests which start it side by side all find it built. */
export default async function setup(): Promise<void> {
  keepStacks();
  await ensureBuilt();
}
