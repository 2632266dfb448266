import { controlClass } from '@/app/ui/forms/Field';
import { FormSection } from '@/app/ui/forms/FormSection';
import type { SheetWord } from '@/lib/capture/sheet/words';

/** Words of the sheet that are none of the registry's: what each means is said once for all its rows. */
export function MapWords({ words }: { words: readonly SheetWord[] }) {
  const open = words.filter(({ value }) => value === '').length;
  return (
    <FormSection
      id="words"
      legend="Words in this sheet"
      hint="What each stands for holds for all its rows. Check those that are filled in already."
      progress={open === 0 ? undefined : `${open} to choose`}
    >
      <ul className="divide-y divide-rule">
        {words.map((word) => (
          <MapWord key={`${word.field} ${word.text}`} word={word} />
        ))}
      </ul>
    </FormSection>
  );
}

function MapWord({ word }: { word: SheetWord }) {
  const { field, label, text, rows, options, value, nearest } = word;
  const id = `word.${field}.${text}`.replaceAll(/\s+/g, '-');
  return (
    <li className="grid items-center gap-x-4 gap-y-2 py-3 sm:grid-cols-[minmax(0,20rem)_minmax(0,1fr)]">
      <div>
        <label htmlFor={id} className="text-sm">
          <span className="font-semibold">“{text.slice(0, 60)}”</span> under {label}
        </label>
        <span className="num block text-xs text-ink-soft">
          {rows === 1 ? 'in one row' : `in ${rows} rows`}
          {nearest === undefined || value !== '' ? null : `. Did you mean “${nearest}”?`}
        </span>
      </div>
      <div>
        <input type="hidden" name="word.field" value={field} />
        <input type="hidden" name="word.text" value={text} />
        <select
          id={id}
          name="word.value"
          defaultValue={value}
          className={`${controlClass()} w-full max-w-72 pr-1`}
        >
          <option value="">Choose, or refuse these rows</option>
          {options.map((option) => (
            <option key={option.value} value={option.value}>
              {option.label}
            </option>
          ))}
        </select>
      </div>
    </li>
  );
}
