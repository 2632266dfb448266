import { authorise } from '@/lib/access/authorise';
import { isChosenId } from '@/lib/run/formIds';
import { wallClock } from '@/lib/run/localDate';
import type { Actor } from '@/lib/run/roles';
import { typedOffset } from '@/lib/run/utcOffset';
import { latestForms } from '@/lib/store/drafts';
import { namesOfChoices } from '@/lib/store/myRuns';
import { latestSheets } from '@/lib/store/sessionSheets';
import type { Registry } from '../registry';

/** A tester's latest days, to go on with. */
export interface LatestDay {
  sheetId: string;
  localDate: string;
  /** Car and loop, as far as chosen. */
  what: string;
  runs: number;
}

export const MOST_DAYS = 5;

/** They, and what day it is by the clock that the tester drove by last. */
export async function latestDays(
  registry: Registry,
  actor: Actor | undefined,
): Promise<{ days: LatestDay[]; today: string }> {
  authorise(actor, 'recordRun');
  const [sheets, today] = await Promise.all([
    latestSheets(registry.db, actor.accountId, MOST_DAYS),
    todayOf(registry, actor.accountId),
  ]);
  const chosen = (name: string) => [
    ...new Set(sheets.map(({ shared }) => shared[name] ?? '').filter(isChosenId)),
  ];
  const names = await namesOfChoices(registry.db, {
    ownerId: actor.accountId,
    carIds: chosen('carId'),
    setupIds: [],
    loopIds: chosen('loopId'),
  });
  return {
    days: sheets.map(({ id, localDate, shared, runs }) => ({
      sheetId: id,
      localDate,
      what: [shared.carId, shared.loopId].flatMap((one) => names.get(one ?? '') ?? []).join(' · '),
      runs,
    })),
    today,
  };
}

/** What day it is by the clock that a tester drove by last. */
export async function todayOf(registry: Registry, accountId: string): Promise<string> {
  const [last] = await latestForms(registry.db, accountId);
  return wallClock(registry.now().getTime(), typedOffset(last?.utcOffsetMin)).slice(0, 10);
}
