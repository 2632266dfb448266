import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { RunView } from '@/lib/registry/runs/run';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

/** That something which the run was computed from is being put right: its number stands until that is decided. */
export function OpenCorrections({ view, display }: { view: RunView; display: Display }) {
  const number = (whPerKm: number | null) =>
    whPerKm === null ? 'no number' : showQuantity(whPerKm, 'consumption', display, { decimals: 2 });
  return view.corrections.map((correction) => (
    <Notice
      key={correction.number}
      kind="caution"
      title="A correction of what this run was computed from is under review. Its number stands until that is decided."
    >
      {correction.isSeen ? (
        <p className="num">
          {number(correction.before)} would become {number(correction.after)}:{' '}
          <Link className="link" href={`/corrections/${correction.number}`}>
            correction {correction.number}
          </Link>
        </p>
      ) : null}
    </Notice>
  ));
}
