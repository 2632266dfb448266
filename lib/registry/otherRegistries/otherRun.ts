import type { Row } from '@/lib/openData/column';
import { otherModel, otherSetup, otherTester } from '@/lib/openData/other/names';
import { otherRowsByKey } from '@/lib/store/otherRegistries';
import type { Registry } from '../registry';
import { labelOf, otherThings } from './otherRanking';
import { type OtherSource, readOther } from './others';

export interface OtherRunView {
  source: OtherSource;
  number: number;
  setupId: string;
  setup: string;
  model: string;
  tester: string;
  classLabel: string;
  run: Row;
  result: Row | undefined;
  loop: Row | undefined;
}

/** One run of another registry with its result; undefined where nothing of it is shown. */
export async function readOtherRun(
  registry: Registry,
  { world, number }: { world: string; number: number },
): Promise<OtherRunView | undefined> {
  const other = await readOther(registry, world);
  if (other === undefined) return undefined;
  const { snapshot, source } = other;
  const byKey = async (table: string, key: string) =>
    (await otherRowsByKey(registry.db, snapshot.id, table, [key]))[0];
  const run = await byKey('runs', String(number));
  if (run === undefined) return undefined;
  const setupId = String(run.setup_id);
  const [result, loop, { levels, models }] = await Promise.all([
    byKey('results', String(number)),
    byKey('loops', String(run.loop_id)),
    otherThings(registry, snapshot.id, [setupId]),
  ]);
  const model = models.get(String(run.model_id));
  return {
    source,
    number,
    setupId,
    setup: otherSetup(levels.get(setupId) ?? []),
    model: model === undefined ? '' : otherModel(model),
    tester: otherTester(String(run.tester_id)),
    classLabel: labelOf(String(run.cruise_class)),
    run,
    result,
    loop,
  };
}
