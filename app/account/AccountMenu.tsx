import Link from 'next/link';

/** The account area of the header for someone who is not signed in. */
export function AccountMenu() {
  return (
    <Link href="/sign-in" className="link inline-flex min-h-11 items-center text-sm">
      Sign in
    </Link>
  );
}
