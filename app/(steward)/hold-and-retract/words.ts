import type { ManyAct } from '@/lib/run/manyActs';

/** An act in the words of its tab, its button and what is said when it is done. */
export const ACT_WORDS: Readonly<
  Record<ManyAct, { title: string; verb: string; pending: string; done: string; label: string; hint: string }>
> = {
  hold: {
    title: 'Hold',
    verb: 'Hold',
    pending: 'Holding…',
    done: 'Held',
    label: 'What is looked into',
    hint: 'Every reader of each run sees it. They do not count until their holds are lifted.',
  },
  lift: {
    title: 'Lift holds',
    verb: 'Lift the holds on',
    pending: 'Lifting…',
    done: 'Lifted the holds on',
    label: 'What was found',
    hint: 'It is kept with each run. Approved ones count again from the next fit on.',
  },
  retract: {
    title: 'Retract',
    verb: 'Retract',
    pending: 'Retracting…',
    done: 'Retracted',
    label: 'What was wrong',
    hint: 'Every reader of each run sees it. A retraction cannot be taken back; the runs stay readable.',
  },
};

export function runsText(count: number): string {
  return `${count} ${count === 1 ? 'run' : 'runs'}`;
}
