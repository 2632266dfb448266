import { describe, expect, it } from 'vitest';
import { Filters } from '@/app/ui/Filters';
import { CheckField } from '@/app/ui/forms/CheckField';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { ErrorSummary } from '@/app/ui/forms/ErrorSummary';
import { FileField } from '@/app/ui/forms/FileField';
import { FormSection } from '@/app/ui/forms/FormSection';
import { QuantityField } from '@/app/ui/forms/QuantityField';
import { SubmitButton } from '@/app/ui/forms/SubmitButton';
import { TextField } from '@/app/ui/forms/TextField';
import { all, byId, only, referenced, render, textOf } from './markup';

const error = { what: 'Two decimal points.', why: 'It cannot be read.', fix: 'Enter 18.42.' };
const kwh = { value: 'kWh', label: 'kWh' };

describe('a text field', () => {
  const page = render(<TextField name="place" label="Place" hint="Where it is" error={error} required />);
  const input = only(page, 'input');

  it('is named by its label', () => {
    expect(only(page, 'label').attributes.for).toBe(input.attributes.id);
    expect(textOf(only(page, 'label'))).toMatch(/^Place/);
  });

  it('is described by its hint and by what, why and fix of its error', () => {
    expect(referenced(page, input, 'aria-describedby')).toEqual([
      'Where it is',
      'Error: Two decimal points. It cannot be read. Enter 18.42.',
    ]);
    expect(input.attributes['aria-invalid']).toBe('true');
    expect(input.attributes.required).toBe('');
  });

  it('says nothing of errors where there is none', () => {
    const plain = only(render(<TextField name="place" label="Place" />), 'input').attributes;
    expect(plain).not.toHaveProperty('aria-invalid');
    expect(plain).not.toHaveProperty('aria-describedby');
    expect(plain).not.toHaveProperty('required');
  });

  it('becomes a text area for several lines', () => {
    const page = render(<TextField name="note" label="Note" multiline rows={6} error={error} />);
    const area = only(page, 'textarea');
    expect(area.attributes.rows).toBe('6');
    expect(referenced(page, area, 'aria-describedby')[0]).toContain('Two decimal points.');
  });
});

describe('a quantity field', () => {
  it('keeps the digits as typed: a text input with a decimal keyboard', () => {
    const input = all(
      render(<QuantityField name="energy" label="Energy" units={[kwh]} defaultValue="18.40" />),
      'input',
    )[0];
    expect(input?.attributes).toMatchObject({ type: 'text', inputMode: 'decimal', value: '18.40' });
  });

  it('sends a single unit along and reads it out after the error', () => {
    const page = render(<QuantityField name="energy" label="Energy" units={[kwh]} error={error} />);
    const [input, hidden] = all(page, 'input');
    expect(hidden?.attributes).toMatchObject({ type: 'hidden', name: 'energyUnit', value: 'kWh' });
    if (!input) throw new Error('no input');
    const described = referenced(page, input, 'aria-describedby');
    expect(described).toHaveLength(2);
    expect(described[0]).toContain('Two decimal points.');
    expect(described[1]).toBe('kWh');
  });

  it('offers several units in a select named after the field', () => {
    const units = [kwh, { value: 'Wh', label: 'Wh' }];
    const page = render(
      <QuantityField name="energy" unitName="energyIn" label="Energy" units={units} defaultUnit="Wh" />,
    );
    const select = only(page, 'select');
    expect(select.attributes).toMatchObject({ name: 'energyIn', 'aria-label': 'Energy, unit' });
    expect(all(select, 'option').map(textOf)).toEqual(['kWh', 'Wh']);
    expect(all(select, 'option').map((option) => 'selected' in option.attributes)).toEqual([false, true]);
  });

  it('grows to field size', () => {
    const input = all(render(<QuantityField name="e" label="E" units={[kwh]} size="field" />), 'input')[0];
    expect(input?.attributes.class).toContain('min-h-14'); // 3.5 rem = 56 px, over the 48 px asked
  });
});

describe('a choice', () => {
  const options = [
    { value: 'road', label: 'Road' },
    { value: 'at', label: 'All-terrain', hint: 'open tread' },
  ];

  it('as radios is a named group tied to its error, each with a label', () => {
    const page = render(
      <ChoiceField kind="radio" name="tyre" label="Tyre" options={options} error={error} defaultValue="at" />,
    );
    const group = only(page, 'fieldset');
    expect(textOf(only(group, 'legend'))).toBe('Tyre');
    expect(referenced(page, group, 'aria-describedby')[0]).toContain('Enter 18.42.');
    const inputs = all(group, 'input');
    expect(inputs.map((input) => 'checked' in input.attributes)).toEqual([false, true]);
    for (const input of inputs) {
      const label = all(group, 'label').find((item) => item.attributes.for === input.attributes.id);
      expect(label && textOf(label)).toBeTruthy();
    }
    expect(inputs[1] && referenced(page, inputs[1], 'aria-describedby')).toEqual(['open tread']);
  });

  it('as checkboxes ticks what is given', () => {
    const page = render(
      <ChoiceField kind="checkboxes" name="t" label="T" options={options} defaultValues={['road']} />,
    );
    expect(all(page, 'input').map((i) => [i.attributes.type, 'checked' in i.attributes])).toEqual([
      ['checkbox', true],
      ['checkbox', false],
    ]);
  });

  it('as a select may start empty', () => {
    const page = render(<ChoiceField name="t" label="T" options={options} emptyLabel="Any" />);
    expect(all(page, 'option').map((o) => o.attributes.value)).toEqual(['', 'road', 'at']);
  });
});

describe('other fields', () => {
  it('ties errors of boxes and files', () => {
    for (const field of [
      <CheckField key="c" name="f" label="F" error={error} />,
      <FileField key="f" name="f" label="F" error={error} accept="image/jpeg" />,
    ]) {
      const page = render(field);
      expect(referenced(page, only(page, 'input'), 'aria-describedby')[0]).toContain('Two decimal points.');
      expect(only(page, 'label').attributes.for).toBe('f');
    }
  });

  it('leads from the summary to the fields', () => {
    const page = render(
      <form>
        <ErrorSummary
          errors={[
            { fieldId: 'energy', message: 'Energy has two points' },
            { fieldId: 'tyre', message: 'No tyre' },
          ]}
        />
        <QuantityField name="energy" label="Energy" units={[kwh]} />
        <ChoiceField kind="radio" name="tyre" label="Tyre" options={[]} />
      </form>,
    );
    const links = all(page, 'a').map((link) => link.attributes.href?.slice(1) ?? '');
    expect(links).toEqual(['energy', 'tyre']);
    expect(links.map((id) => byId(page, id).name)).toEqual(['input', 'fieldset']);
    const alert = all(page, 'div').find((div) => div.attributes.role === 'alert');
    expect(alert && referenced(page, alert, 'aria-labelledby')).toEqual(['2 entries need a look']);
    expect(alert?.attributes.tabindex ?? alert?.attributes.tabIndex).toBe('-1');
  });

  it('shows no summary without errors', () => {
    expect(render(<ErrorSummary errors={[]} />).children).toEqual([]);
  });

  it('names the parts of a form', () => {
    const page = render(
      <FormSection legend="Start" step={{ number: 2, of: 5 }} progress="1 of 4 entered">
        <p />
      </FormSection>,
    );
    expect(textOf(only(only(page, 'fieldset'), 'legend'))).toBe('Start Part 2 of 5 · 1 of 4 entered');
  });

  it('submits', () => {
    const button = only(render(<SubmitButton>Send</SubmitButton>), 'button');
    expect(button.attributes.type).toBe('submit');
    expect(button.attributes).not.toHaveProperty('aria-disabled');
    expect(textOf(button)).toBe('Send');
  });

  it('filters by a GET form that carries the rest of the address', () => {
    const page = render(
      <Filters
        action="/rankings"
        hidden={{ unit: 'Wh' }}
        applied={[{ label: 'Saloon', removeHref: '/rankings' }]}
      >
        <TextField name="q" label="Search" />
      </Filters>,
    );
    expect(only(page, 'form').attributes).toMatchObject({ method: 'get', action: '/rankings' });
    expect(all(page, 'input').some((i) => i.attributes.name === 'unit' && i.attributes.value === 'Wh')).toBe(
      true,
    );
    expect(textOf(only(page, 'ul'))).toBe('Saloon×, remove');
  });
});
