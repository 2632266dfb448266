import type { UsedThing } from '@/lib/access/allowances';
import type { TriedThing } from '@/lib/access/delays';
import { TooSoon } from '@/lib/run/errors';
import { recordAct } from '../audit/recordAct';
import type { Registry } from '../registry';

interface Asked {
  thing: TriedThing | UsedThing;
  /** Who is signed in, if anybody. */
  accountId?: string | undefined;
  /** The field that the answer stands beside. */
  path: string;
  what: string;
  why: string;
  waitS: number;
}

/** Tells the log that somebody was asked to wait, and gives back what they are told. */
export async function tooSoon(registry: Registry, asked: Asked): Promise<TooSoon> {
  const { thing, accountId, path, what, why, waitS } = asked;
  await recordAct(registry, {
    actorId: accountId,
    action: 'account.delayed',
    subjectKind: 'account',
    subjectId: accountId ?? 'none',
    details: { thing },
  });
  const fix = `Try again in ${waitS === 1 ? 'one second' : `${waitS} seconds`}.`;
  return new TooSoon(waitS, { path, what, why, fix });
}
