export interface SiteLink {
  href: string;
  label: string;
}

/** What a reader finds in the header, in the order of the job: look, compare, trace back, check how. */
export const mainLinks: readonly SiteLink[] = [
  { href: '/rankings', label: 'Rankings' },
  { href: '/factors', label: 'Factors' },
  { href: '/compare', label: 'Compare' },
  { href: '/estimate', label: 'Estimate' },
  { href: '/studies', label: 'Studies' },
  { href: '/models', label: 'Models' },
  { href: '/loops', label: 'Loops' },
  { href: '/runs', label: 'Runs' },
  { href: '/protocol', label: 'Protocol' },
  { href: '/method', label: 'Method' },
];

export const footerLinks: readonly SiteLink[] = [
  { href: '/requests', label: 'What to drive next' },
  { href: '/protocol', label: 'Protocol' },
  { href: '/method', label: 'Method' },
  { href: '/data', label: 'Data' },
  { href: '/moderation', label: 'How decisions are made' },
  { href: '/method#limitations', label: 'Limitations' },
  { href: '/data/api', label: 'For programs' },
  { href: '/safety', label: 'Safety' },
  { href: '/safety#privacy', label: 'Privacy' },
];

/** A page belongs to a link when it is that page or lies below it. */
export function isCurrent(pathname: string | null, href: string): boolean {
  return pathname !== null && (pathname === href || pathname.startsWith(`${href}/`));
}
