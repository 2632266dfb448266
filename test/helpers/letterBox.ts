import type { Letter } from '@/lib/mail/letter';
import type { Mail } from '@/lib/registry/accounts/mail';

/** Keeps letters in memory, and finds the secret of the last one to an address. */
export function letterBox() {
  const letters: Letter[] = [];
  const mail: Mail = {
    site: 'https://registry.example',
    outbox: {
      async put(letter) {
        letters.push(letter);
      },
    },
  };
  const lastTo = (to: string) => letters.findLast((letter) => letter.to === to);
  return {
    mail,
    letters,
    lastTo,
    secretTo: (to: string) => /\?token=([\w-]+)$/m.exec(lastTo(to)?.text ?? '')?.[1] ?? '',
  };
}
