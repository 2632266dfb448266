import { bodyLabel } from '@/lib/run/bodyClass';
import { monthOfText } from '@/lib/run/publishedDay';
import { setupTitle } from '@/lib/run/setupTitle';
import type { Row } from '../column';

/**
 * What things of another registry are called here. Names are not in a snapshot, so that whoever is erased or renamed there
 * is so everywhere: the end of the identifier tells one from another.
 */

const DIGITS = 8;

/** The end of an identifier: its beginning is the time it was made, which many share. */
export const shortId = (id: string): string => id.slice(-DIGITS);

/** yyyy-mm-dd; yyyy-mm where its tester publishes no more there. */
export const otherDay = (run: Row): string =>
  run.month_only === true ? monthOfText(String(run.local_date)) : String(run.local_date);

/** "Pick-up of 2025 (0a1b2c3d)" */
export function otherModel(model: Row): string {
  return `${bodyLabel(String(model.body_class))} of ${model.model_year} (${shortId(String(model.model_id))})`;
}

/** "Ride height: level 0a1b2c3d"; by the name that they share there where a steward of theirs gave one: "Ride height: low" */
export function otherSetup(levels: readonly Row[]): string {
  return setupTitle(
    levels
      .filter(({ is_baseline }) => is_baseline !== true)
      .map(({ factor, level_id, shared_level }) => ({
        factor: String(factor),
        label:
          typeof shared_level === 'string'
            ? shared_level.replaceAll('-', ' ')
            : `level ${shortId(String(level_id))}`,
      })),
  );
}

/** "tester 0a1b2c3d" */
export const otherTester = (id: string): string => `tester ${shortId(id)}`;
