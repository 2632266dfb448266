import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import {
  countOwnStewards,
  openStewardCode,
  replaceStewardCode,
  spendStewardCode,
} from '@/lib/store/accounts';
import type { Queryable } from '@/lib/store/database';
import type { Registry } from '../registry';
import { beginTry, endTry, failTry, forgiveTries, type Tried } from './boundTries';
import { tooSoon } from './tooSoon';

/** No letters that are read as digits. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const LENGTH = 12;

/** Whether nobody answers for the record yet; the steward of the demo world is none for real people. */
export async function lacksSteward(registry: Registry): Promise<boolean> {
  return (await countOwnStewards(registry.db)) === 0;
}

/**
 * While the registry has no steward: makes a new one-time code (an unused older one stops working) and returns it to be
 * printed. Otherwise null. Only its hash is stored.
 */
export async function ensureStewardCode(registry: Registry): Promise<string | null> {
  if (!(await lacksSteward(registry))) return null;
  const characters = Array.from({ length: LENGTH }, () => ALPHABET[randomInt(ALPHABET.length)]);
  const code = characters.join('').replace(/(.{4})(?=.)/g, '$1-');
  await registry.db.$transaction((tx) => replaceStewardCode(tx, hashOf(code), registry.now()));
  return code;
}

/** Uses the code up, in the transaction that makes its holder steward; throws where it is not the one that is open. */
export async function takeStewardCode(tx: Queryable, code: string, at: Date): Promise<void> {
  const open = await openStewardCode(tx);
  if ((await countOwnStewards(tx)) > 0 || open === null || !codeMatches(code, open.codeHash)) {
    throw new WrongStewardCode();
  }
  if (!(await spendStewardCode(tx, open.id, at))) {
    throw new Conflict('The steward code was used a moment ago.');
  }
}

class WrongStewardCode extends InvalidInput {
  constructor() {
    super([
      {
        path: 'stewardCode',
        what: 'This steward code is not valid.',
        why: 'It is printed at start, works once, and only while there is no steward yet; each start makes a new one.',
        fix: 'Copy it again from the latest start message, or leave the field empty.',
      },
    ]);
  }
}

/** Makes wrong codes of one source wait, for longer each time; what fails for another reason is not counted. */
export async function boundCodeTries<Result>(
  registry: Registry,
  { source, accountId }: { source: string; accountId?: string },
  attempt: () => Promise<Result>,
): Promise<Result> {
  const tried: Tried[] = [{ thing: 'stewardCode', which: source }];
  const waitS = await beginTry(registry, tried);
  if (waitS !== undefined) {
    throw await tooSoon(registry, {
      thing: 'stewardCode',
      accountId,
      path: 'stewardCode',
      what: 'Too many wrong steward codes.',
      why: 'Nobody may find it by trying.',
      waitS,
    });
  }
  try {
    const result = await attempt();
    await forgiveTries(registry, tried);
    return result;
  } catch (error) {
    if (error instanceof WrongStewardCode) await failTry(registry);
    else await endTry(registry, tried);
    throw error;
  }
}

function codeMatches(code: string, codeHash: string): boolean {
  return timingSafeEqual(Buffer.from(hashOf(code), 'hex'), Buffer.from(codeHash, 'hex'));
}

/** A code has 59 bits of chance and is replaced at each start: a plain digest is enough. */
function hashOf(code: string): string {
  return createHash('sha256')
    .update(code.toUpperCase().replace(/[^A-Z0-9]/g, ''))
    .digest('hex');
}
