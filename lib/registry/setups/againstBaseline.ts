import type { AnswerNumbers } from '@/lib/answers/answer';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { findContrast } from '@/lib/stats/orientedContrast';
import { pairSides, stateDifference } from '@/lib/stats/statedDifference';
import { currentFit, estimatesOf } from '@/lib/store/fits';
import { pairedSessions } from '@/lib/store/pairedRuns';
import { contrastsAmong } from '@/lib/store/publicPages';
import { shownLabel } from '../counted/countedLabel';
import { activeProtocol } from '../protocol/activeProtocol';
import type { Registry } from '../registry';

interface Side {
  setupId: string;
  slug: string;
}

/** A setup against its model's baseline, from the published fit; undefined where either is not in it. */
export async function readAgainstBaseline(
  registry: Registry,
  setup: Side,
  baseline: Side,
  of: { cruiseClassKey: string; world: WorldKey },
): Promise<AnswerNumbers | undefined> {
  const { db } = registry;
  const fit = await currentFit(db, of);
  if (fit === null) return undefined;
  const methodVersion = await shownLabel(db, worldKey(of.world));
  const [rows, contrasts, pairs, protocol] = await Promise.all([
    estimatesOf(db, fit.id, [setup.slug, baseline.slug]),
    contrastsAmong(db, fit.id, [setup.setupId, baseline.setupId]),
    pairedSessions(db, { ...of, methodVersion, baselineId: baseline.setupId, setupId: setup.setupId }, 1),
    activeProtocol(registry),
  ]);
  const rowOf = ({ setupId }: Side) => rows.find((row) => row.setupId === setupId);
  const [baselineRow, setupRow] = [rowOf(baseline), rowOf(setup)];
  if (baselineRow === undefined || setupRow === undefined) return undefined;
  const contrast = findContrast(contrasts, baseline.setupId, setup.setupId);
  const sides = pairSides(baselineRow, setupRow, protocol.parameters.ranking.carsAcrossModels);
  return {
    ...stateDifference(contrast, sides, fit.summary),
    sideBySide: { total: pairs.total, lower: pairs.lower },
  };
}
