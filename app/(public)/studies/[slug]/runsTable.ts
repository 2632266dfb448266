import type { TwinTable } from '@/app/ui/figures/description';
import type { StudyView } from '@/lib/registry/studies/study';
import { DEVIATION_WORDS } from '@/lib/study/driven';
import { letterOf, type StudyPlan } from '@/lib/study/plan';
import type { Display } from '@/lib/units/display';
import { showNumber } from '@/lib/units/show';

const NOTHING = '–';

/** Every run of a study as its page shows them, for a file: in Wh/km, °C and m/s, whatever the reader chose. */
export function runsTable(view: StudyView, plan: StudyPlan, display: Display): TwinTable {
  const titles = new Map(view.setups.map(({ id, title }) => [id, title]));
  const number = (value: number | null) => (value === null ? NOTHING : showNumber(value, 1, display));
  return {
    caption: view.question,
    columns: [
      { header: 'Day of the study' },
      { header: 'Date', align: 'start' },
      { header: 'Place in the day' },
      { header: 'Letter', align: 'start' },
      { header: 'Setup', align: 'start' },
      { header: 'Run' },
      { header: 'Standing', align: 'start' },
      { header: 'Consumption at reference conditions', unit: 'Wh/km' },
      { header: 'Air', unit: '°C' },
      { header: 'Wind', unit: 'm/s' },
      { header: 'Left the plan', align: 'start' },
    ],
    rows: view.sessions.flatMap((session) =>
      session.runs.map(({ run, deviations }, at) => [
        String(session.place + 1),
        run.day,
        String(at + 1),
        letterOf(plan, run.setupId),
        titles.get(run.setupId) ?? '',
        run.isPublic ? String(run.number) : NOTHING,
        run.standing,
        number(run.whPerKm),
        number(run.airTemperatureC),
        number(run.windSpeedMps),
        [
          ...deviations.map((deviation) => DEVIATION_WORDS[deviation]),
          ...(run.wasChosen ? ['added by hand afterwards'] : []),
        ].join('; '),
      ]),
    ),
  };
}
