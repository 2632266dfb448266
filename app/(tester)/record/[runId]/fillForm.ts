import type { RunForm } from '@/lib/run/runForm';
import { RUN_FORM_NAMES } from '@/lib/run/runForm';

/** Puts a draft into the fields of a form that stands on the page. */
export function fillForm(
  form: HTMLFormElement,
  values: RunForm,
  names: readonly string[] = RUN_FORM_NAMES,
): void {
  for (const name of names) {
    const text = values[name] ?? '';
    for (const control of form.querySelectorAll(`[name="${name}"]`)) {
      if (control instanceof HTMLInputElement && (control.type === 'radio' || control.type === 'checkbox')) {
        control.checked = control.value === text;
      } else if (
        control instanceof HTMLInputElement ||
        control instanceof HTMLTextAreaElement ||
        (control instanceof HTMLSelectElement && (text !== '' || !name.endsWith('Unit')))
      ) {
        control.value = text;
      }
    }
  }
}
