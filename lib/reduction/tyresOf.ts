import { type TyreKind, tyreKindOf } from '@/lib/run/tyreKind';
import type { ReductionSnapshot } from './snapshot';

/** The kind of tyre that a run was driven on: that of its setup, else that of its model as delivered. */
export function tyresOf({ setup, model }: Pick<ReductionSnapshot, 'setup' | 'model'>): TyreKind {
  return tyreKindOf(...setup.levels.map(({ tyreKind }) => tyreKind), model.deliveredTyreKind);
}
