import type { RunForm } from '@/lib/run/runForm';
import { DEMO_SEED } from '@/prisma/demo/loadDemoWorld';
import { generateDemoWorld } from '@/prisma/demo/world/generateDemoWorld';
import type { DemoWorld } from '@/prisma/demo/world/types';
import { TESTER } from './people';

export interface GoodRun {
  carName: string;
  setupIsBaseline: boolean;
  loopName: string;
  form: RunForm;
}

let made: DemoWorld | undefined;
/** The same world each time: made once, and only by whom it is asked for. */
function demoWorld(): DemoWorld {
  made ??= generateDemoWorld({ seed: DEMO_SEED });
  return made;
}

/**
 * The readings of a good run of the demo tester, to be typed again for another day: they agree with each other, and
 * with the car and the loop.
 */
export function goodRun(startedAtLocal: string): GoodRun {
  const world = demoWorld();
  const tester = world.people.find((person) => person.email === TESTER);
  const run = world.runs.find((candidate) => {
    const model = world.models.find((one) => one.setups.some((setup) => setup.key === candidate.setupKey));
    const revision = candidate.revisions[0];
    return (
      candidate.testerKey === tester?.key &&
      candidate.setupKey === model?.setups[0]?.key &&
      candidate.cruiseClassKey === 'kmh-110' &&
      revision?.fault === undefined &&
      revision?.review?.kind === 'approve'
    );
  });
  const car = world.cars.find((one) => one.key === run?.carKey);
  const loop = world.loops.find((one) => one.key === run?.loopKey);
  const form = run?.revisions[0]?.form;
  if (!run || !car || !loop || !form) throw new Error('the demo tester has no good baseline run at 110 km/h');
  const { carId: _car, setupId: _setup, loopId: _loop, ...readings } = form;
  return {
    carName: car.name,
    setupIsBaseline: true,
    loopName: loop.name,
    form: { ...readings, startedAtLocal },
  };
}
