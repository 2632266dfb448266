import { Notice } from './Notice';

/** On the page of what stewards took out of lists and choices. */
export function HiddenNote({ what, reason }: { what: string; reason: string | null }) {
  if (reason === null) return null;
  return (
    <Notice kind="info" title={`This ${what} is not listed any more.`}>
      {reason} What was driven stays as it is.
    </Notice>
  );
}
