import { Notice } from '@/app/ui/Notice';
import type { FormCar } from '@/lib/registry/runs/formSubjects';
import type { RecordFormView } from '@/lib/registry/runs/recordForm';
import type { RunSection } from '@/lib/run/fields/sections';
import { RUN_FIELDS } from '@/lib/run/fields/table';
import type { RunForm } from '@/lib/run/runForm';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';
import { EvidenceFields } from './EvidenceFields';
import type { FormParts } from './formParts';
import { LoopFields } from './LoopFields';
import { ReadingFields } from './ReadingFields';
import { SetupFields } from './SetupFields';
import { StartFields } from './StartFields';
import { TextFields } from './TextFields';

interface SectionFieldsProps {
  section: RunSection;
  parts: FormParts;
  onChoose: (name: string, value: string) => void;
}

/** The fields of one section: those that only it has, then what the table of fields puts into it. */
export function SectionFields({ section, parts, onChoose }: SectionFieldsProps) {
  return (
    <>
      {section === 'setup' ? (
        <SetupFields
          parts={parts}
          onCar={(carId) => onChoose('carId', carId)}
          onSetup={(setupId) => onChoose('setupId', setupId)}
        />
      ) : null}
      {section === 'loop' ? (
        <LoopFields
          parts={parts}
          onLoop={(loopId) => onChoose('loopId', loopId)}
          onClass={(key) => onChoose('cruiseClassKey', key)}
        />
      ) : null}
      {section === 'start' ? <StartFields parts={parts} /> : null}
      <ReadingFields section={section} parts={parts} />
      <TextFields section={section} parts={parts} />
      {section === 'evidence' ? <EvidenceFields parts={parts} /> : null}
    </>
  );
}

/** How many of the required fields of a section hold something. */
export function sectionProgress(section: RunSection, values: RunForm): string | undefined {
  const required = RUN_FIELDS.filter((field) => field.section === section && field.isRequired);
  if (required.length === 0) return undefined;
  const filled = required.filter(({ name }) => (values[name] ?? '').trim() !== '').length;
  return `${filled} of ${required.length} required entered`;
}

/** What the reviewer asked for in this section, and what is on file about the car. */
export function sectionNotice(section: RunSection, view: RecordFormView, display: Display, car?: FormCar) {
  const remarks = view.review?.remarks.filter((remark) => remark.section === section) ?? [];
  const placard = section === 'start' && car ? placardWords(car, display) : undefined;
  if (remarks.length === 0 && placard === undefined) return null;
  return (
    <>
      {remarks.length > 0 ? (
        <Notice kind="caution" title="The reviewer asks">
          <ul>
            {remarks.map((remark) => (
              <li key={remark.ruleId}>
                <strong>{remark.title}.</strong> {remark.text}
              </li>
            ))}
          </ul>
        </Notice>
      ) : null}
      {placard ? <p className="text-sm text-ink-soft">{placard}</p> : null}
    </>
  );
}

function placardWords(
  { name, placardFrontPa, placardRearPa }: FormCar,
  display: Display,
): string | undefined {
  const words = (pressurePa: number | undefined, place: string) =>
    pressurePa === undefined
      ? []
      : [
          `${place} ${showQuantity(pressurePa, 'tyrePressure', display, {
            decimals: display.tyrePressure === 'bar' ? 1 : 0,
          })}`,
        ];
  const pressures = [...words(placardFrontPa, 'front'), ...words(placardRearPa, 'rear')];
  return pressures.length === 0
    ? undefined
    : `Placard pressures on file for ${name}: ${pressures.join(', ')}. They are used where the fields below stay empty.`;
}
