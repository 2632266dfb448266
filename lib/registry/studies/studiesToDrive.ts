import { carIdsOfModels } from '@/lib/store/cars';
import type { Queryable } from '@/lib/store/database';
import { draftsToPlace } from '@/lib/store/drafts';
import { setupsNamed } from '@/lib/store/studyBasis';
import { openStudiesOf, placedRuns } from '@/lib/store/studyRuns';
import { type PlacedRun, type StudyToDrive, studyOf } from '@/lib/study/nextToDrive';
import { letterOf, setupsOfPlan } from '@/lib/study/plan';

/**
 * The open studies that a tester drives in, the earliest first, with whatever has a place in their orders: the runs that
 * were sent in, and the tester's own drafts that would join. Others' drafts are nobody's business.
 */
export async function studiesToDrive(db: Queryable, accountId: string): Promise<StudyToDrive[]> {
  const studies = (await openStudiesOf(db, accountId)).filter(
    ({ state, ownerId }) => state === 'running' || ownerId === accountId,
  );
  if (studies.length === 0) return [];
  const [placed, drafts, cars, setups] = await Promise.all([
    placedRuns(
      db,
      studies.map(({ id }) => id),
    ),
    draftsToPlace(db, accountId),
    carIdsOfModels(
      db,
      accountId,
      studies.map(({ modelId }) => modelId),
    ),
    setupsNamed(
      db,
      studies.flatMap(({ plan }) => setupsOfPlan(plan)),
    ),
  ]);
  const known = studies.map(({ id, slug, question, modelId, plan }) => {
    return {
      studyId: id,
      slug,
      question,
      loopId: plan.loopId,
      cruiseClassKey: plan.cruiseClassKey,
      carIds: cars.flatMap((car) => (car.modelId === modelId ? [car.id] : [])),
      setups: setupsOfPlan(plan).map((setupId) => ({
        id: setupId,
        title: setups.find((setup) => setup.id === setupId)?.title ?? 'a setup that is gone',
        letter: letterOf(plan, setupId),
      })),
      days: plan.days,
    };
  });
  return known.map((study) => {
    const noted = drafts.flatMap(({ number, day, form, begunForStudyId }): PlacedRun[] => {
      const { carId = '', setupId = '' } = form;
      const joins = setupId !== '' && studyOf(known, { ...form, begunForStudyId }) === study;
      return joins && day !== undefined ? [{ number, day, carId, setupId }] : [];
    });
    const sent = placed.flatMap(({ studyId, ...run }) => (studyId === study.studyId ? [run] : []));
    return { ...study, runs: [...sent, ...noted] };
  });
}
