import Link from 'next/link';
import { footerLinks } from './siteMap';
import { ThemeChoice } from './ThemeChoice';

export function SiteFooter() {
  return (
    <footer className="border-t border-rule-strong text-sm">
      <div className="mx-auto grid max-w-[76rem] gap-6 px-4 py-8 sm:px-8 md:grid-cols-[1fr_auto]">
        <p className="max-w-[34rem] text-ink-soft">
          Estimates under stated conditions, not a promise of range. Posted limits and local law come before
          any test.
        </p>
        <nav aria-label="More">
          <ul className="grid grid-cols-2 gap-x-8 sm:grid-cols-3">
            {footerLinks.map((link) => (
              <li key={link.href}>
                <Link href={link.href} className="link inline-flex min-h-8 items-center">
                  {link.label}
                </Link>
              </li>
            ))}
          </ul>
        </nav>
        <div className="md:col-span-2">
          <ThemeChoice />
        </div>
      </div>
    </footer>
  );
}
