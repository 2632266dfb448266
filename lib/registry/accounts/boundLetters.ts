import type { Registry } from '../registry';
import { beginTry } from './boundTries';
import { tooSoon } from './tooSoon';

/** Letters are sent by asking: nobody has others' letter boxes filled. `which` is an account, or an address asked for. */
export async function boundLetters(registry: Registry, which: string, accountId?: string): Promise<void> {
  const waitS = await beginTry(registry, [{ thing: 'letter', which }]);
  if (waitS === undefined) return;
  throw await tooSoon(registry, {
    thing: 'letter',
    accountId,
    path: 'email',
    what: 'Several letters were just asked for.',
    why: 'Nobody’s letter box may be filled.',
    waitS,
  });
}
