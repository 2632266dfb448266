import { type UnitCode, unitSymbol } from '@/lib/units/unit';
import { DisplayLink } from './DisplayLink';
import { Link } from './Link';

interface UnitNoteProps {
  unit: UnitCode;
  /** The same page in the reader's own unit, where the address asks for this one. */
  ownHref?: string | undefined;
}

/** The unit that the page's consumption is in, why, and the way to another. */
export function UnitNote({ unit, ownHref }: UnitNoteProps) {
  return (
    <p className="no-print my-6 flex flex-wrap items-center gap-x-4 text-sm text-ink-soft">
      <span>
        Consumption in {unitSymbol(unit)}
        {ownHref === undefined ? '' : ', as the address of this page asks'}
      </span>
      {ownHref === undefined ? null : (
        <Link href={ownHref} className="link inline-flex min-h-8 items-center">
          In my own unit
        </Link>
      )}
      <DisplayLink className="link inline-flex min-h-8 items-center" />
    </p>
  );
}
