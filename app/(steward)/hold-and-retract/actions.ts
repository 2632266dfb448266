'use server';

import { type FormState, finished, shownTextsOf, text } from '@/app/ui/forms/formState';
import { signedIn } from '@/app/visitor/actor';
import { refused } from '@/app/visitor/refused';
import { registry } from '@/app/visitor/registry';
import { actOnManyRuns, type ManyDone } from '@/lib/registry/review/actOnManyRuns';
import { MANY_ACTS } from '@/lib/run/manyActs';
import { ACT_WORDS, runsText } from './words';

export async function actOnRuns(_state: FormState, data: FormData): Promise<FormState> {
  const act = MANY_ACTS.find((one) => one === text(data, 'act'));
  let outcome: ManyDone;
  try {
    outcome = await actOnManyRuns(registry(), await signedIn(), {
      act,
      seen: text(data, 'seen').split(' ').filter(Boolean),
      reason: text(data, 'reason'),
    });
  } catch (error) {
    return refused(error, shownTextsOf(data));
  }
  return finished(outcomeText(act ?? 'hold', outcome));
}

function outcomeText(act: (typeof MANY_ACTS)[number], { done, refused: left }: ManyDone): string {
  const first = done.length === 0 ? 'Nothing was done.' : `${ACT_WORDS[act].done} ${runsText(done.length)}.`;
  if (left.length === 0) return first;
  return `${first} Left as they are: ${left.map(({ number, why }) => `run ${number} (${why})`).join(', ')}.`;
}
