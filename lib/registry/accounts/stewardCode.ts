import { createHash, randomInt, timingSafeEqual } from 'node:crypto';
import { Conflict, InvalidInput } from '@/lib/run/errors';
import {
  clearSignInFailures,
  countOwnStewards,
  countSignInFailures,
  forgetSignInFailure,
  openStewardCode,
  recordSignInFailure,
  replaceStewardCode,
  spendStewardCode,
} from '@/lib/store/accounts';
import type { Queryable } from '@/lib/store/database';
import type { Registry } from '../registry';

/** No letters that are read as digits. */
const ALPHABET = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';
const LENGTH = 12;
const WINDOW_MS = 15 * 60 * 1000;

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

/**
 * Bounds the wrong codes of one source to `most` a quarter of an hour. As at sign-in, a try counts as failed until it
 * is known not to be, so that tries sent all at once cannot slip past; what fails for another reason is not counted.
 */
export async function boundCodeTries<Result>(
  registry: Registry,
  { source, most }: { source: string; most: number },
  attempt: () => Promise<Result>,
): Promise<Result> {
  const { db } = registry;
  const now = registry.now();
  // Beside the failed sign-ins: no address has a blank in it.
  const name = `steward code, ${source}`;
  const tryId = await recordSignInFailure(db, name, now);
  if ((await countSignInFailures(db, name, new Date(now.getTime() - WINDOW_MS))) > most) {
    await forgetSignInFailure(db, tryId);
    throw new InvalidInput([
      {
        path: 'stewardCode',
        what: 'Too many wrong steward codes.',
        why: 'Nobody may find it by trying.',
        fix: 'Wait a quarter of an hour, then copy it from the latest start message.',
      },
    ]);
  }
  try {
    const result = await attempt();
    await clearSignInFailures(db, name);
    return result;
  } catch (error) {
    if (!(error instanceof WrongStewardCode)) await forgetSignInFailure(db, tryId);
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
