import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it, vi } from 'vitest';
import { RecordForm } from '@/app/(tester)/record/[runId]/RecordForm';
import { RUN_SECTIONS } from '@/lib/run/fields/sections';
import { CHOICE_FIELDS, PHOTO_FIELDS, QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';
import { DEFAULT_PREFERENCES } from '@/lib/units/display';
import { recordView, studyView } from './recordView';

vi.mock('@/app/(tester)/record/[runId]/actions', () => ({ sendRun: async () => undefined }));

const markup = (changes: Parameters<typeof recordView>[0] = {}) =>
  renderToStaticMarkup(<RecordForm display={DEFAULT_PREFERENCES} view={recordView(changes)} />);

/** The opening tag of the control with this name. */
const control = (html: string, name: string) =>
  new RegExp(`<(?:input|select|textarea)[^>]*name="${name.replace('.', '\\.')}"[^>]*>`).exec(html)?.[0] ?? '';

/** From the control with this id to the end of its select. */
const selectOf = (html: string, id: string) =>
  new RegExp(`<select id="${id}".*?</select>`, 's').exec(html)?.[0] ?? '';

describe('the form of a run', () => {
  const html = markup();

  it('has a control for every name of the draft and one for every kind of photo', () => {
    const missing = [...RUN_FORM_NAMES, ...PHOTO_FIELDS.map(({ name }) => name)].filter(
      (name) => control(html, name) === '',
    );
    expect(missing).toEqual([]);
  });

  it('labels every number and choice, and shows every section in order', () => {
    for (const field of QUANTITY_FIELDS) expect(html).toContain(`for="${field.name}"`);
    for (const field of CHOICE_FIELDS) expect(html).toContain(field.label);
    const places = RUN_SECTIONS.map((section) => html.indexOf(`id="part-${section.key}"`));
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(Math.min(...places)).toBeGreaterThan(0);
  });

  it('saves with its first button, so that Enter in a field never submits', () => {
    const first = /<button[^>]*type="submit"[^>]*>/.exec(html)?.[0] ?? '';
    expect(first).toContain('value="save"');
    expect(html).toContain('value="submit"');
  });

  it('carries the version of the draft', () => {
    expect(control(html, 'draftVersion')).toContain('value="4"');
  });

  it('shows texts as typed, with the digits that were typed', () => {
    const typed = markup({ form: { tripDistance: '52.70', tripDistanceUnit: 'mi', notes: '<b>windy</b>' } });
    expect(control(typed, 'tripDistance')).toContain('value="52.70"');
    expect(/<option[^>]*value="mi"[^>]*selected/.test(typed)).toBe(true);
    expect(typed).toContain('&lt;b&gt;windy&lt;/b&gt;');
    expect(typed).not.toContain('<b>windy');
  });
});

describe('the study that the run is of', () => {
  const of = {
    carId: 'car-1',
    loopId: 'loop-1',
    cruiseClassKey: 'kmh-110',
    startedAtLocal: '2026-11-20T09:00',
  };
  const studies = [
    studyView({ runs: [{ number: 11, day: '2026-11-20', carId: 'car-1', setupId: 'setup-1' }] }),
  ];

  it('says what the plan has for it, and whether what is chosen leaves the plan', () => {
    expect(markup({ form: of, studies })).toContain('This is run 2 of it: B, Ride height high, by the plan.');
    expect(markup({ form: { ...of, setupId: 'setup-3' }, studies })).toContain('as planned.');
    expect(markup({ form: { ...of, setupId: 'setup-1' }, studies })).toContain(
      'it stays in the study, marked.',
    );
  });

  it('says nothing of a run that is of none', () => {
    for (const other of [{ ...of, loopId: 'loop-2' }, { ...of, setupId: 'setup-9' }, {}])
      expect(markup({ form: other, studies })).not.toContain('/studies/');
  });
});

describe('the loops', () => {
  const way = (changes: Parameters<typeof recordView>[0]) =>
    /<button([^>]*)>Find a loop/.exec(markup(changes))?.[1];

  it('are all of them, or the first with a way to the others that sends what was typed', () => {
    expect(way({ hasMoreLoops: false })).toBeUndefined();
    for (const part of ['type="submit"', 'name="intent"', 'value="loop"'])
      expect(way({ hasMoreLoops: true })).toContain(part);
  });
});

describe('car and setup', () => {
  it('offers only the setups of the chosen car’s model, and to add one', () => {
    const html = markup({ form: { carId: 'car-1' } });
    expect(selectOf(html, 'setupId')).toContain('Ride height low');
    expect(selectOf(html, 'setupId')).not.toContain('Of the other model');
    expect(html).toContain('/my/setups/new?model=model-1&amp;run=run-1');
  });

  it('names the model with each setup as long as no car is chosen', () => {
    expect(selectOf(markup(), 'setupId')).toContain('Sellin Mote 2024: Of the other model');
  });

  it('takes the units of the car’s display', () => {
    const html = markup({ form: { carId: 'car-1' } });
    expect(/name="tripDistanceUnit".*?<option[^>]*value="mi"[^>]*selected/s.test(html)).toBe(true);
  });
});

describe('loop and class', () => {
  it('closes the classes above the posted limit', () => {
    const html = selectOf(markup({ form: { loopId: 'loop-1' } }), 'cruiseClassKey');
    expect(html).toMatch(
      /<option[^>]*disabled=""[^>]*value="kmh-130"|<option[^>]*value="kmh-130"[^>]*disabled=""/,
    );
    expect(html).not.toMatch(/<option[^>]*value="kmh-100"[^>]*disabled/);
  });

  it('says why a class that stands in the draft cannot be driven on this loop', () => {
    const html = markup({ form: { loopId: 'loop-1', cruiseClassKey: 'kmh-130' } });
    expect(html).toContain('130 km/h is above the posted limit of Skerry coast');
    expect(control(html, 'cruiseClassKey')).toContain('aria-invalid="true"');
  });
});

describe('a run with changes asked', () => {
  it('shows each reason in its section and beside its field', () => {
    const html = markup({
      revisionNumber: 1,
      review: {
        note: 'Nearly there.',
        decidedAt: '2026-11-21T09:00:00.000Z',
        remarks: [
          {
            ruleId: 'wind',
            title: 'Calm air',
            text: 'Which station was this?',
            section: 'conditions',
            field: 'windSpeed',
          },
        ],
      },
    });
    const hint = /<div id="windSpeed-hint".*?<\/div>/s.exec(html)?.[0] ?? '';
    expect(hint).toContain('Which station was this?');
    expect(html).toContain('The reviewer asks');
    expect(html).toContain('Submit revision 2');
  });
});
