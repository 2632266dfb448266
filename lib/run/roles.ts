import type { WorldKey } from '@/lib/run/world';
/** Roles, each including the rights of those before it. */
export const ROLES = ['reader', 'tester', 'reviewer', 'steward'] as const;
export type Role = (typeof ROLES)[number];

export function atLeast(role: Role, wanted: Role): boolean {
  return ROLES.indexOf(role) >= ROLES.indexOf(wanted);
}

/** Why and since when an account may not record or review. */
export interface OpenSuspension {
  reason: string;
  placedAt: Date;
  isAppealed: boolean;
}

/** Who asks: the signed-in account, or nobody. */
export interface Actor {
  accountId: string;
  role: Role;
  /** Of its account: the rights of any but the record's end where their world does. */
  world?: WorldKey;
  /** When they last proved to be who they are; a command on this machine has nothing to prove. */
  provedAt?: Date;
  /** Kept from writing by a steward: its role is a reader's meanwhile. */
  suspension?: OpenSuspension | undefined;
}
