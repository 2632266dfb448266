import { isOver, SEEN_AGAIN_MS } from '@/lib/access/signInLimits';
import { atLeast, type OpenSuspension, type Role } from '@/lib/run/roles';
import { RECORD, type WorldKey, worldKey } from '@/lib/run/world';
import { type OpenSignIn, openSignIn, seeSignIn } from '@/lib/store/signIns';
import type { Preferences } from '@/lib/units/display';
import { preferencesFrom } from '@/lib/units/displaySchema';
import type { Registry } from '../registry';

export interface SignedIn {
  accountId: string;
  role: Role;
  displayName: string;
  slug: string;
  world: WorldKey;
  /** Units and appearance kept with the account, where they were chosen. */
  preferences: Preferences | undefined;
  /** The role that it has once it has a second factor, where this registry asks for one and it has none yet. */
  heldBack: Role | undefined;
  /** What keeps it from writing; its role is a reader's meanwhile. */
  suspension: OpenSuspension | undefined;
  /** Which of the account's sign-ins asks. */
  signInKey: string;
  provedAt: Date;
}

export interface Token {
  accountId: string;
  sessionEpoch: number;
  signInKey: string;
}

/**
 * The account behind a token, with the role of now and not the one of the token's day; undefined when the sign-in that
 * it names was ended or is over, the token is from before a "sign out everywhere" or the account was erased. One read;
 * that somebody is there still is written down now and then, as the one thing that a page writes by being read.
 */
export async function currentActor(registry: Registry, token: Token): Promise<SignedIn | undefined> {
  const found = await openSignIn(registry.db, token.signInKey);
  if (found === undefined || found.accountId !== token.accountId) return undefined;
  if (found.sessionEpoch !== token.sessionEpoch) return undefined;
  const now = registry.now();
  if (isOver(found, now)) return undefined;
  const staleFrom = new Date(now.getTime() - SEEN_AGAIN_MS);
  if (found.lastSeenAt <= staleFrom) await seeSignIn(registry.db, token.signInKey, now, staleFrom);
  const suspension = suspensionOf(found);
  const isHeldBack = suspension === undefined && lacksFactor(found);
  return {
    accountId: found.accountId,
    role: suspension !== undefined ? 'reader' : isHeldBack ? 'tester' : found.role,
    heldBack: isHeldBack ? found.role : undefined,
    suspension,
    displayName: found.displayName,
    slug: found.slug,
    world: worldKey(found.world),
    preferences: found.display === null ? undefined : preferencesFrom(found.display),
    signInKey: token.signInKey,
    provedAt: found.provedAt,
  };
}

/**
 * Whether an account that decides over others' runs has to set up a second factor before it does so again. Until then
 * it has a tester's rights, with which it can: nobody is locked out by the setting. A provider's accounts have the
 * provider's; those of the invented world are of no weight and share a password.
 */
function lacksFactor(found: OpenSignIn): boolean {
  return (
    found.isFactorAsked &&
    !found.hasFactor &&
    found.hasPassword &&
    worldKey(found.world) === RECORD &&
    atLeast(found.role, 'reviewer')
  );
}

function suspensionOf({ suspendedAt, suspendedFor, isAppealed }: OpenSignIn): OpenSuspension | undefined {
  if (suspendedAt === null || suspendedFor === null) return undefined;
  return { reason: suspendedFor, placedAt: suspendedAt, isAppealed: isAppealed ?? false };
}
