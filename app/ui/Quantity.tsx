interface QuantityProps {
  /** Already formatted, for example "151.2". */
  value: string;
  unit: string;
  /** The ends of the coverage interval, already formatted, or a sentence on why there is none. */
  interval?: { low: string; high: string } | string;
  /** Of the interval; 95 % unless told. */
  level?: string;
  size?: 'normal' | 'large';
}

/** A number with its unit and its interval, never one without the others. */
export function Quantity({ value, unit, interval, level = '95 %', size = 'normal' }: QuantityProps) {
  const large = size === 'large';
  return (
    <span className={`num ${large ? 'block' : 'inline-flex flex-wrap items-baseline gap-x-2'}`}>
      <span className="whitespace-nowrap">
        <span className={large ? 'font-serif text-3xl font-semibold' : 'font-semibold'}>{value}</span>{' '}
        <span className={large ? 'ml-0.5 text-lg text-ink-soft' : ''}>{unit}</span>
      </span>
      {interval ? ' ' : null}
      {interval ? (
        <span className={`text-ink-soft ${large ? 'mt-1 block text-sm' : 'text-sm'}`}>
          {typeof interval === 'string' ? (
            interval
          ) : (
            <>
              {large ? null : <span className="sr-only">{level} interval </span>}
              {interval.low} to {interval.high}
              {large ? ` ${unit} (${level} interval)` : null}
            </>
          )}
        </span>
      ) : null}
    </span>
  );
}
