import { DefinitionList } from '@/app/ui/DefinitionList';
import { Section } from '@/app/ui/Section';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import { cruiseClassByKey } from '@/lib/run/cruiseClass';
import {
  CHOICE_FIELDS,
  EVIDENCE_KINDS,
  QUANTITY_FIELDS,
  RUN_SECTIONS,
  type RunForm,
  type RunSection,
  unitFieldName,
} from '@/lib/run/fields';
import { isUnitCode, UNITS } from '@/lib/units/unit';
import { PhotoList } from './PhotoList';
import { offsetLabel } from './StartFields';

/** What was sent, as it was typed, for reading only. */
export function SentSummary({ view }: { view: RecordFormView }) {
  return RUN_SECTIONS.map((section) => {
    const items = entered(section.key, view);
    const kinds = section.key === 'evidence' ? EVIDENCE_KINDS : [];
    return (
      <Section key={section.key} id={`part-${section.key}`} title={section.label}>
        {items.length > 0 ? <DefinitionList items={items} columns={2} /> : null}
        {kinds.map((kind) => (
          <PhotoList
            key={kind.value}
            label={kind.label}
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

function entered(section: RunSection, view: RecordFormView): { term: string; description: string }[] {
  const { form } = view;
  const items = [...ownItems(section, view)];
  for (const field of CHOICE_FIELDS) {
    const option = field.options.find((one) => one.value === form[field.name]);
    if (field.section === section && option) items.push([field.label, option.label]);
  }
  for (const field of QUANTITY_FIELDS) {
    const text = form[field.quantity];
    if (field.section === section && text) {
      items.push([
        field.label,
        `${text} ${unitSymbol(form[unitFieldName(field.quantity)] ?? field.units[0])}`,
      ]);
    }
  }
  return items.flatMap(([term, description]) => (description ? [{ term, description }] : []));
}

function ownItems(section: RunSection, view: RecordFormView): [string, string | undefined][] {
  const { form } = view;
  const car = view.cars.find((one) => one.id === form.carId);
  const loop = view.loops.find((one) => one.id === form.loopId);
  switch (section) {
    case 'setup':
      return [
        ['Car', car?.name],
        ['Model', car?.model],
        ['Setup', car?.setups.find((setup) => setup.id === form.setupId)?.title],
      ];
    case 'loop':
      return [
        ['Loop', loop?.name],
        ['Cruise speed class', cruiseClassByKey(form.cruiseClassKey ?? '')?.label],
      ];
    case 'start':
      return [
        ['Start', startWords(form)],
        ['Entered later', form.isRetrospective === 'yes' ? 'Yes' : undefined],
      ];
    case 'conditions':
      return [
        ['Station report', form.stationReport],
        ['Notes', form.notes],
      ];
    default:
      return [];
  }
}

function startWords(form: RunForm): string | undefined {
  if (!form.startedAtLocal) return undefined;
  const offset = form.utcOffsetMin === undefined ? '' : `, ${offsetLabel(Number(form.utcOffsetMin))}`;
  return `${form.startedAtLocal.replace('T', ' ')}${offset}`;
}

function unitSymbol(code: string): string {
  return isUnitCode(code) ? UNITS[code].symbol : code;
}
