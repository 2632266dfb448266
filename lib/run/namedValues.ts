/** A value as it is stored with the words for it. */
export interface NamedValue<Value extends string = string> {
  readonly value: Value;
  readonly label: string;
}

/** The values alone, for a schema at the edge. */
export function valuesOf<Value extends string>(
  named: readonly [NamedValue<Value>, ...NamedValue<Value>[]],
): [Value, ...Value[]] {
  const [first, ...rest] = named;
  return [first.value, ...rest.map(({ value }) => value)];
}

/** The words for a stored value; the value itself where there are none. */
export function labelOf(named: readonly NamedValue[], value: string): string {
  return named.find((one) => one.value === value)?.label ?? value;
}
