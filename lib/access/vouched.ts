import { atLeast, type Role } from '@/lib/run/roles';

/** What is known of who stands behind an account. */
export interface Voucher {
  role: Role;
  /** By a steward; accounts from before this was asked have the time of their opening. */
  vouchedAt: Date | null;
  /** By a link sent there, or by the provider that signed the person in. */
  emailVerifiedAt: Date | null;
}

/**
 * Whether anything but a form filled in stands behind an account: a steward, a provider, an address that was proved, or
 * a role that a steward gave. Nothing is ranked on other accounts alone, and they count as one.
 */
export function isVouchedFor({ role, vouchedAt, emailVerifiedAt }: Voucher): boolean {
  return vouchedAt !== null || emailVerifiedAt !== null || atLeast(role, 'reviewer');
}
