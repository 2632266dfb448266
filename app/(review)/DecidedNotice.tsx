import { Notice } from '@/app/ui/Notice';

const WORDS: ReadonlyMap<string, string> = new Map(
  Object.entries({
    approveFirst: 'has your approval and waits for a second one.',
    approve: 'is approved. Its class is being fitted anew.',
    askChanges: 'went back to its tester with your reasons.',
    reject: 'is rejected. Its tester reads your reasons.',
  }),
);

/** What the last decision did, said on the page that follows it: "12-approve" in the address. */
export function DecidedNotice({ decided, next = false }: { decided: string | undefined; next?: boolean }) {
  const [, number, kind = ''] = /^(\d{1,9})-(\w+)$/.exec(decided ?? '') ?? [];
  const words = WORDS.get(kind);
  if (number === undefined || words === undefined) return null;
  return (
    <Notice kind="done" live outcome={decided} title={`Run ${number} ${words}`}>
      {next ? <p>This is the next one in the queue.</p> : null}
    </Notice>
  );
}
