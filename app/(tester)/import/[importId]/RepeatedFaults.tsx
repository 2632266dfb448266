import type { ImportMapper } from '@/lib/capture/sheet/importMapper';
import type { RepeatedFault } from '@/lib/capture/sheet/importReport';

/** The same fault in many rows, said once, with the way to where one answer mends them all. */
export function RepeatedFaults({
  faults,
  mapper,
}: {
  faults: readonly RepeatedFault[];
  mapper: ImportMapper | undefined;
}) {
  if (faults.length === 0) return null;
  return (
    <div className="mb-6">
      <h3 className="font-semibold">The same in several rows</h3>
      <ul className="mt-2 space-y-2">
        {faults.map(({ path, message, rows }) => (
          <li key={`${path} ${message}`}>
            <span className="num font-semibold">{rows} rows:</span> {message}{' '}
            {mapper !== undefined && path !== '' ? (
              <a
                href={mapper.words.some(({ field }) => field === path) ? '#words' : `#column.${path}`}
                className="link"
              >
                Mend it for all rows
              </a>
            ) : null}
          </li>
        ))}
      </ul>
    </div>
  );
}
