import { Sign } from '@/app/ui/Sign';

/** What the cross-checks or the reviewer have to say of one field, under its hint. */
export function Remarks({ texts, from = 'Check' }: { texts: readonly string[] | undefined; from?: string }) {
  if (texts === undefined || texts.length === 0) return null;
  return texts.map((text) => (
    <span key={text} className="mt-1 flex gap-2 text-caution">
      <Sign kind="caution" className="mt-0.5 size-4 shrink-0" />
      <span>
        <span className="font-semibold">{from}:</span> {text}
      </span>
    </span>
  ));
}
