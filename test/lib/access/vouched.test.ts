import { describe, expect, it } from 'vitest';
import { isVouchedFor } from '@/lib/access/vouched';

describe('somebody vouches for an account', () => {
  const nobody = { role: 'tester', vouchedAt: null, emailVerifiedAt: null } as const;
  it('where a steward, a proved address or a role says so, and not by being there', () => {
    expect(isVouchedFor(nobody)).toBe(false);
    expect(isVouchedFor({ ...nobody, role: 'reader' })).toBe(false);
    expect(isVouchedFor({ ...nobody, vouchedAt: new Date(0) })).toBe(true);
    expect(isVouchedFor({ ...nobody, emailVerifiedAt: new Date(0) })).toBe(true);
    expect(isVouchedFor({ ...nobody, role: 'reviewer' })).toBe(true);
  });
});
