'use client';

/** The library is fetched when it is asked for: every page has this button in its frame, and few readers press it. */
const signOut = async () => {
  const { signOut } = await import('next-auth/react');
  await signOut({ callbackUrl: '/' });
};

export function SignOutButton() {
  return (
    <button type="button" className="link min-h-9 text-left" onClick={() => void signOut()}>
      Sign out
    </button>
  );
}
