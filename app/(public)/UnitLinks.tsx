import Link from 'next/link';
import { CONSUMPTION_UNITS } from '@/app/visitor/readerUnits';
import type { UnitCode } from '@/lib/units/unit';

interface UnitLinksProps {
  unit: UnitCode;
  /** The address of this page with another unit. */
  hrefFor: (unit: string) => string;
}

/** The units a reader may have the page's consumption in. */
export function UnitLinks({ unit, hrefFor }: UnitLinksProps) {
  return (
    <nav aria-label="Unit of consumption" className="no-print mb-6 text-sm">
      <ul className="flex flex-wrap items-center gap-x-4">
        {CONSUMPTION_UNITS.map(({ value, label }) => (
          <li key={value}>
            <Link
              href={hrefFor(value)}
              aria-current={value === unit ? 'true' : undefined}
              className="link inline-flex min-h-8 items-center aria-[current=true]:font-semibold aria-[current=true]:text-ink aria-[current=true]:no-underline"
            >
              {label}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
