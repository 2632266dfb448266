import Link from 'next/link';
import { Figure } from '@/app/ui/figures/Figure';
import { Notice } from '@/app/ui/Notice';
import type { NormalisedRun } from '@/lib/physics/normalise';
import { adjustmentFigure } from './adjustmentFigure';
import type { RunOfFigure } from './runSource';

/** From measured to comparable, one condition at a time, in the documented order. */
export function Adjustment({ run, view }: { run: NormalisedRun; view: RunOfFigure }) {
  return (
    <>
      {run.scaleFinding ? (
        <Notice
          kind={run.scaleFinding.level === 'fail' ? 'problem' : 'caution'}
          title={run.scaleFinding.message}
        />
      ) : null}
      <Figure figure={adjustmentFigure(view, run)} />
      <p className="text-sm">
        <Link className="link" href="/method">
          The method, formula by formula
        </Link>
      </p>
    </>
  );
}
