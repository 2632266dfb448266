import { useEffect, useRef } from 'react';
import { buttonClass } from '@/app/ui/buttonClass';
import { Disclosure } from '@/app/ui/Disclosure';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { TextField } from '@/app/ui/forms/TextField';
import { stepIndex } from '@/lib/run/fields/cardSteps';
import type { CardStep, FieldEntry } from '@/lib/run/fields/entry';
import { titlesInWords } from '@/lib/run/fields/fieldWords';
import { RUN_FIELDS } from '@/lib/run/fields/table';
import type { Offer } from '@/lib/run/sessionSheet';
import { START_TIME } from '@/lib/run/sessionSheet';
import { isUnitCode, unitSymbol } from '@/lib/units/unit';
import type { SheetParts } from './DayPart';
import { SheetField } from './SheetField';

/** What is read on the way from start to finish stands open; the rest of a run is folded. */
const ON_THE_WAY: ReadonlySet<CardStep | undefined> = new Set<CardStep>(['start', 'turnaround', 'finish']);

const READ: readonly FieldEntry[] = RUN_FIELDS.filter(
  ({ kind }) => kind === 'choice' || kind === 'quantity' || kind === 'text',
);
const OWN = READ.filter(({ day, card }) => day === undefined && ON_THE_WAY.has(card?.step)).toSorted(
  (a, b) => placeOf(a) - placeOf(b),
);
const REST = READ.filter(({ day, card }) => day === undefined && !ON_THE_WAY.has(card?.step));
const UNLESS_OTHERWISE = READ.filter(({ day }) => day === 'unlessOtherwise');

/** The order in which a drive comes to them. */
function placeOf({ card }: FieldEntry): number {
  return card === undefined ? 0 : stepIndex(card.step) * 1000 + card.place;
}

/** The run that is open: what changes from run to run, and nothing else. */
export function RunPart({ parts, offers }: { parts: SheetParts; offers: readonly Offer[] }) {
  const { view, day, issues, starting } = parts;
  const { open } = view;
  const place = useRef<HTMLFieldSetElement>(null);
  useEffect(() => {
    // Led here by a button of the run before: on with the fields, not back to the top.
    if (window.location.hash === '#run') place.current?.focus();
  }, []);
  if (open === undefined) return null;
  const setups = view.cars.find(({ id }) => id === day.carId)?.setups ?? [];
  const ofRun = (field: FieldEntry) => (
    <div key={field.name}>
      <SheetField
        field={field}
        of="run"
        starting={starting}
        day={day}
        remarks={parts.remarks[field.name]}
        error={errorOf(issues, field.name)}
      />
      {offers
        .filter(({ name }) => name === field.name)
        .map((offer) => (
          <button
            key={offer.name}
            type="submit"
            name="intent"
            value={`take:${offer.name}`}
            className="link mt-1 inline-flex min-h-6 items-center text-sm"
          >
            Take {offer.text} {isUnitCode(offer.unit) ? unitSymbol(offer.unit) : offer.unit} from the last
            finish
          </button>
        ))}
    </div>
  );
  const isOtherwise = UNLESS_OTHERWISE.some(({ name }) => open.part[name] || errorOf(issues, name));
  return (
    <fieldset ref={place} id="run" tabIndex={-1} className="mt-8 border-t border-rule-strong pt-4">
      <legend className="float-left mb-3 w-full font-serif text-xl font-semibold">
        Run {open.number}: what changes
      </legend>
      <div className={`${GRID} clear-both`}>
        <ChoiceField
          name="setupId"
          label="Setup"
          required
          emptyLabel={setups.length === 0 ? 'Choose the car first' : 'Choose a setup'}
          options={setups.map(({ id, title }) => ({ value: id, label: title }))}
          defaultValue={starting.setupId ?? ''}
          error={errorOf(issues, 'setupId')}
        />
        <TextField
          name={START_TIME}
          label="Time of start"
          type="time"
          required
          defaultValue={starting[START_TIME] ?? ''}
          error={errorOf(issues, 'startedAtLocal')}
        />
        {OWN.map(ofRun)}
      </div>
      <details open={isOtherwise} className="mt-5 text-sm">
        <summary className="disclosure">Otherwise than the day: weather, pressures, road</summary>
        <div className={`${GRID} mt-4`}>{UNLESS_OTHERWISE.map(ofRun)}</div>
      </details>
      <Disclosure title="More of this run">
        <div className={`${GRID} mt-4`}>{REST.map(ofRun)}</div>
      </Disclosure>
      <p className="mt-5 flex flex-wrap items-center gap-x-4 gap-y-2 text-sm text-ink-soft">
        <button type="submit" name="intent" value="whole" className={buttonClass('secondary')}>
          Photos, recording and all fields of run {open.number}
        </button>
        {open.otherwise.length > 0 ? (
          <span>Otherwise than the day: {titlesInWords(open.otherwise)}.</span>
        ) : null}
      </p>
    </fieldset>
  );
}

const GRID = 'grid items-end gap-x-8 gap-y-5 sm:grid-cols-2 lg:grid-cols-3';
