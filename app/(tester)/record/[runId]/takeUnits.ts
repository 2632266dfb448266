import type { UnitChoice } from '@/lib/run/displayUnits';
import { QUANTITY_FIELDS } from '@/lib/run/fields/table';
import { unitFieldName } from '@/lib/run/numberField';

/** Fields still empty change to the units of the car's display; `named` says what a field is called in the form. */
export function takeUnits(
  form: HTMLFormElement,
  units: UnitChoice,
  named: (name: string) => string = (name) => name,
): void {
  for (const { name } of QUANTITY_FIELDS) {
    const text = form.elements.namedItem(named(name));
    const unit = form.elements.namedItem(named(unitFieldName(name)));
    const wanted = units[name];
    if (!(text instanceof HTMLInputElement) || !(unit instanceof HTMLSelectElement)) continue;
    if (text.value === '' && wanted !== undefined) unit.value = wanted;
  }
}
