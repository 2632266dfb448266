import type { ShownStudyRun, StudyView } from '@/lib/registry/studies/study';
import { videoList } from '@/lib/study/videoTimes';

/** A run of a study in the words of a list: what it is called wherever it has no row of its own. */
export interface NamedRun {
  run: ShownStudyRun;
  words: string;
}

export function namedRuns(view: StudyView): NamedRun[] {
  const titles = new Map(view.setups.map(({ id, title }) => [id, title]));
  return view.sessions.flatMap((session) =>
    session.runs.map(({ run }, at) => ({
      run,
      words: `Day ${session.place + 1}, run ${at + 1}: ${titles.get(run.setupId) ?? 'a setup that is gone'}`,
    })),
  );
}

/** For each tester who gave times, the list that stands under their video. */
export function videoLists(
  view: StudyView,
): { tester: { displayName: string; slug: string }; text: string }[] {
  const byTester = new Map<string, NamedRun[]>();
  for (const named of namedRuns(view)) {
    if (named.run.videoAtS === null) continue;
    const { slug } = named.run.tester;
    byTester.set(slug, [...(byTester.get(slug) ?? []), named]);
  }
  return [...byTester.values()].flatMap((runs) => {
    const [first] = runs;
    if (first === undefined) return [];
    const marks = runs.map(({ run, words }) => ({
      atS: run.videoAtS ?? 0,
      words: run.isPublic ? `${words} (run ${run.number})` : words,
    }));
    return [{ tester: first.run.tester, text: videoList(view.question, marks) }];
  });
}
