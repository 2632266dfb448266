import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import { type FieldEntry, inSectionOrder, type SubjectEntry } from '@/lib/run/fields/entry';
import { typedWords } from '@/lib/run/fields/fieldWords';
import { RUN_SECTIONS, type RunSection } from '@/lib/run/fields/sections';
import { PHOTO_FIELDS, RUN_FIELDS } from '@/lib/run/fields/table';
import { dayWords } from '@/lib/run/localDate';
import type { RunForm } from '@/lib/run/runForm';
import { offsetLabel, typedOffset } from '@/lib/run/utcOffset';
import { PhotoList } from './PhotoList';

/** What was sent, as it was typed, for reading only. */
export function SentSummary({ view }: { view: RecordFormView }) {
  return RUN_SECTIONS.map((section) => {
    const items = entered(section.key, view);
    const kinds = PHOTO_FIELDS.filter((field) => field.section === section.key);
    return (
      <Section key={section.key} id={`part-${section.key}`} title={section.label}>
        {items.length > 0 ? <DefinitionList items={items} columns={2} /> : null}
        {kinds.map((kind) => (
          <PhotoList
            key={kind.value}
            label={kind.label}
            utcOffsetMin={typedOffset(view.form.utcOffsetMin)}
            photos={view.photos.filter((photo) => photo.kind === kind.value)}
          />
        ))}
        {items.length === 0 && (kinds.length === 0 || view.photos.length === 0) ? (
          <p className="text-sm text-ink-soft">Nothing entered.</p>
        ) : null}
      </Section>
    );
  });
}

type Item = [term: string, description: string | undefined];

function entered(section: RunSection, view: RecordFormView): { term: string; description: string }[] {
  const fields = inSectionOrder<FieldEntry>(RUN_FIELDS).filter((field) => field.section === section);
  const items = fields.flatMap((field) => itemsOf(field, view));
  return items.flatMap(([term, description]) => (description ? [{ term, description }] : []));
}

function itemsOf(field: FieldEntry, view: RecordFormView): Item[] {
  const { form } = view;
  const term = field.shortLabel ?? field.label;
  const value = form[field.name] ?? '';
  switch (field.kind) {
    case 'quantity':
      return [[term, typedWords(form, field)]];
    case 'choice':
      return [[term, field.options.find((option) => option.value === value)?.label]];
    case 'text':
      return [[term, value]];
    case 'subject':
      return subjectItems(field, term, view);
    case 'start':
      return startItems(field.name, term, form);
    case 'photo':
      return [];
  }
}

function subjectItems({ of }: SubjectEntry, term: string, { form, cars, loops }: RecordFormView): Item[] {
  const car = cars.find((one) => one.id === form.carId);
  switch (of) {
    case 'car':
      return [
        [term, car?.name],
        ['Model', car?.model],
      ];
    case 'setup':
      return [[term, car?.setups.find((setup) => setup.id === form.setupId)?.title]];
    case 'loop':
      return [[term, loops.find((one) => one.id === form.loopId)?.name]];
    case 'cruiseClass':
      return [[term, cruiseClassByKey(form.cruiseClassKey ?? '')?.label]];
  }
}

/** Time and offset make one instant and stand on one line. */
function startItems(name: string, term: string, form: RunForm): Item[] {
  if (name === 'startedAtLocal') return [[term, startWords(form)]];
  return name === 'isRetrospective' ? [[term, form[name] === 'yes' ? 'Yes' : undefined]] : [];
}

function startWords(form: RunForm): string | undefined {
  if (!form.startedAtLocal) return undefined;
  const offset = form.utcOffsetMin === undefined ? '' : `, ${offsetLabel(typedOffset(form.utcOffsetMin))}`;
  const [day = '', time = ''] = form.startedAtLocal.split('T');
  return `${dayWords(day)}, ${time}${offset}`;
}
