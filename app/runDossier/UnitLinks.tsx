import Link from 'next/link';
import { CONSUMPTION_UNITS } from '@/app/visitor/readerUnits';
import type { UnitCode } from '@/lib/units/unit';

/** The consumption units that the page can be read in, each at its own address. */
export function UnitLinks({ unit, hrefFor }: { unit: UnitCode; hrefFor: (unit: string) => string }) {
  return (
    <nav aria-label="Unit of consumption" className="no-print text-sm">
      <ul className="flex flex-wrap gap-x-4">
        {CONSUMPTION_UNITS.map((one) => (
          <li key={one.value}>
            <Link
              href={hrefFor(one.value)}
              aria-current={one.value === unit ? 'true' : undefined}
              scroll={false}
              className="link inline-flex min-h-8 items-center aria-[current=true]:font-semibold aria-[current=true]:text-ink aria-[current=true]:no-underline"
            >
              {one.label}
            </Link>
          </li>
        ))}
      </ul>
    </nav>
  );
}
