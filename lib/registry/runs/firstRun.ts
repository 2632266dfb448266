import { z } from 'zod';
import { authorise } from '@/lib/access/authorise';
import { NotFound } from '@/lib/run/errors';
import { isChosenId } from '@/lib/run/formIds';
import { parseInput } from '@/lib/run/parseInput';
import type { Actor } from '@/lib/run/roles';
import type { RunForm } from '@/lib/run/runForm';
import { carsForForm } from '@/lib/store/cars';
import { latestLoopOf, loopExists } from '@/lib/store/loops';
import { hasSentRun } from '@/lib/store/runs';
import type { Registry } from '../registry';
import { addSetup } from '../setups/addSetup';
import { type FormLoop, type FormSubjects, formSubjects } from './formSubjects';
import { type DraftRef, startDraft } from './startDraft';

/** How far a tester is on the way to the first run: told by what is there, so it can be left and gone on with. */
export interface FirstRunView extends Pick<FormSubjects, 'cars' | 'loops' | 'hasMoreLoops'> {
  /** The one named, else the latest of their own. */
  loop: FormLoop | undefined;
}

export async function firstRun(
  registry: Registry,
  actor: Actor | undefined,
  chosenLoopId: string | undefined,
): Promise<FirstRunView> {
  authorise(actor, 'recordRun');
  const isKnown = isChosenId(chosenLoopId ?? '') && (await loopExists(registry.db, chosenLoopId ?? ''));
  const loopId = isKnown ? chosenLoopId : (await latestLoopOf(registry.db, actor.accountId))?.id;
  const form: RunForm = loopId === undefined ? {} : { loopId };
  const { cars, loops, hasMoreLoops } = await formSubjects(registry, actor.accountId, { form });
  return { cars, loops, hasMoreLoops, loop: loops.find(({ id }) => id === loopId) };
}

/** Whether the tester has not sent any run yet, so that the path is offered. */
export async function awaitsFirstRun(registry: Registry, actor: Actor | undefined): Promise<boolean> {
  authorise(actor, 'recordRun');
  return !(await hasSentRun(registry.db, actor.accountId));
}

const startFirstRunSchema = z.object({
  creationKey: z.string().min(8).max(80),
  carId: z.uuid('No car chosen. | A run is of one car. | Choose it.'),
  loopId: z.uuid('No loop chosen. | A run is on one loop. | Choose it.'),
});

/** The draft of a first run: the car as delivered on the loop. */
export async function startFirstRun(
  registry: Registry,
  actor: Actor | undefined,
  input: unknown,
): Promise<DraftRef> {
  authorise(actor, 'recordRun');
  const { creationKey, carId, loopId } = parseInput(startFirstRunSchema, input);
  const car = (await carsForForm(registry.db, actor.accountId)).find(({ id }) => id === carId);
  if (car === undefined) throw new NotFound('This car is not one of yours.');
  if (!(await loopExists(registry.db, loopId))) throw new NotFound('This loop does not exist.');
  const { setupId } = await addSetup(registry, actor, { modelId: car.model.id, levelIds: [] });
  return startDraft(registry, actor, { creationKey, form: { carId, setupId, loopId } });
}
