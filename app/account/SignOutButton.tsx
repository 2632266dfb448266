'use client';

import { signOut } from 'next-auth/react';

export function SignOutButton() {
  return (
    <button
      type="button"
      className="link min-h-9 text-left"
      onClick={() => void signOut({ callbackUrl: '/' })}
    >
      Sign out
    </button>
  );
}
