import { DEFAULT_PREFERENCES, type Preferences, unitFor } from '@/lib/units/display';
import { unitSymbol } from '@/lib/units/unit';
import { DisplayLink } from './DisplayLink';

/** How numbers are shown to this reader, and the way to change it. */
export function DisplayLine({ display = DEFAULT_PREFERENCES }: { display?: Preferences | undefined }) {
  const units = (['consumption', 'distance', 'speed', 'temperature'] as const).map((kind) =>
    unitSymbol(unitFor(kind, display)),
  );
  const appearance = display.appearance === 'system' ? 'appearance as the system' : display.appearance;
  return (
    <p className="text-ink-soft">
      Shown in {units.join(', ')}; decimal {display.mark}; {appearance}.{' '}
      <DisplayLink className="link inline-flex min-h-8 items-center" />
    </p>
  );
}
