/** The kinds of tyre between which an assumed rolling coefficient differs. */
export const TYRE_KINDS = [
  { value: 'road', label: 'Road' },
  { value: 'allTerrain', label: 'All-terrain' },
] as const;

export type TyreKind = (typeof TYRE_KINDS)[number]['value'];

/** What a level of tyres is taken for unless it says otherwise. */
export const USUAL_TYRE_KIND: TyreKind = 'road';

/**
 * The kind of tyre that a setup drives on: that of its own levels, else that of the model as delivered.
 * A stored kind that is not known counts as the usual one.
 */
export function tyreKindOf(...stored: readonly (string | null | undefined)[]): TyreKind {
  const said = stored.find((kind) => kind !== null && kind !== undefined);
  return TYRE_KINDS.find(({ value }) => value === said)?.value ?? USUAL_TYRE_KIND;
}
