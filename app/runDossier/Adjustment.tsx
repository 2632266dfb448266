import { Figure } from '@/app/ui/figures/Figure';
import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import type { NormalisedRun } from '@/lib/physics/normalise';
import type { Display } from '@/lib/units/display';
import { withReadersMark } from '@/lib/units/show';
import { adjustmentFigure } from './adjustmentFigure';
import type { RunOfFigure } from './runSource';

interface AdjustmentProps {
  run: NormalisedRun;
  view: RunOfFigure;
  display: Display;
}

/** From measured to comparable, one condition at a time, in the documented order. */
export function Adjustment({ run, view, display }: AdjustmentProps) {
  return (
    <>
      {run.scaleFinding ? (
        <Notice
          kind={run.scaleFinding.level === 'fail' ? 'problem' : 'caution'}
          title={withReadersMark(run.scaleFinding.message, display)}
        />
      ) : null}
      <Figure figure={adjustmentFigure(view, run, display)} />
      <p className="text-sm">
        <Link className="link" href="/method">
          The method, formula by formula
        </Link>
      </p>
    </>
  );
}
