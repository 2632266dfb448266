import { Link } from '@/app/ui/Link';
import { countUnreadNotices } from '@/lib/registry/accounts/notices';
import { atLeast } from '@/lib/run/roles';
import { signedIn } from '../visitor/actor';
import { registry } from '../visitor/registry';
import { SignInLink } from './SignInLink';
import { SignOutButton } from './SignOutButton';

/** The account area of the header: sign in, or one's own places by role. */
export async function AccountMenu() {
  const actor = await signedIn();
  if (actor === undefined) return <SignInLink />;
  const unread = await countUnreadNotices(registry(), actor);
  const links = [
    { href: '/my', label: 'My runs' },
    { href: '/record', label: 'Record a run' },
    { href: '/field', label: 'Field card' },
    { href: '/import', label: 'Import from a sheet' },
    { href: '/my/cars', label: 'My cars' },
    { href: '/corrections', label: 'Corrections' },
    { href: '/notifications', label: unread > 0 ? `Notices (${unread} new)` : 'Notices' },
    ...(atLeast(actor.role, 'reviewer')
      ? [
          { href: '/queue', label: 'Review queue' },
          { href: '/reports', label: 'Reports' },
        ]
      : []),
    ...(actor.role === 'steward'
      ? [
          { href: '/people', label: 'People' },
          { href: '/hold-and-retract', label: 'Hold or retract runs' },
          { href: '/protocol-versions', label: 'Protocol versions' },
          { href: '/method-versions', label: 'Method versions' },
          { href: '/shared-levels', label: 'Shared levels' },
          { href: '/other-registries', label: 'Other registries' },
          { href: '/letters', label: 'Letters' },
          { href: '/audit', label: 'Audit log' },
        ]
      : []),
    { href: '/account', label: 'Account' },
  ];
  return (
    <details className="relative text-sm">
      <summary className="link inline-flex min-h-11 cursor-pointer items-center">
        {/* A name can be long: on a phone the header has room for one short word. */}
        <span className="sm:hidden">Yours</span>
        <span className="sr-only sm:not-sr-only sm:whitespace-nowrap">
          {actor.displayName}
          {actor.world === 'demo' ? ' (demo account)' : ''}
        </span>
        {unread > 0 ? <span className="ml-1 font-semibold whitespace-nowrap">({unread} new)</span> : null}
      </summary>
      <ul
        aria-label={actor.world === 'demo' ? 'Your pages: a demo account, invented data' : 'Your pages'}
        className="absolute right-0 z-20 mt-1 w-52 border border-rule bg-paper py-2 shadow-sm"
      >
        {actor.world === 'demo' ? (
          <li className="border-b border-rule px-4 pb-2 text-xs text-ink-soft">
            Demo account: invented data
          </li>
        ) : null}
        {links.map((link) => (
          <li key={link.href}>
            <Link href={link.href} className="block px-4 py-2 hover:underline">
              {link.label}
            </Link>
          </li>
        ))}
        <li className="mt-1 border-t border-rule px-4 pt-2">
          <SignOutButton />
        </li>
      </ul>
    </details>
  );
}
