import { otherRowsUnder } from '@/lib/store/otherRegistries';
import type { ClassChoice } from '../comparisons/comparisonWorld';
import type { Registry } from '../registry';
import { labelOf, otherFits } from './otherRanking';
import { type OtherSource, readOther } from './others';

export interface OtherPageView {
  source: OtherSource;
  classes: ClassChoice[];
  /** The newest last. */
  protocols: { label: string; isActive: boolean }[];
  /** That is accepted for it now. */
  key: { id: string; acceptedAt: Date; reason: string } | undefined;
}

const MOST_PROTOCOLS = 100;

/** What another registry is shown by; undefined where nothing of it is. */
export async function readOtherPage(registry: Registry, world: string): Promise<OtherPageView | undefined> {
  const other = await readOther(registry, world);
  if (other === undefined) return undefined;
  const [fits, protocols] = await Promise.all([
    otherFits(registry, other.snapshot),
    otherRowsUnder(registry.db, other.snapshot.id, 'protocol_versions', undefined, MOST_PROTOCOLS),
  ]);
  const { keyId: id, keyAcceptedAt: acceptedAt, keyReason: reason } = other.registry;
  return {
    source: other.source,
    classes: fits.map((fit) => ({
      key: String(fit.cruise_class),
      label: labelOf(String(fit.cruise_class)),
      runs: Number(fit.runs_used),
    })),
    protocols: protocols.map(({ protocol_version, status }) => ({
      label: String(protocol_version),
      isActive: status === 'active',
    })),
    key: id === null || acceptedAt === null ? undefined : { id, acceptedAt, reason: reason ?? '' },
  };
}
