export type Started = {
  readonly address: string;
  readonly note?: string;
  readonly place: string;
  readonly stewardCode: string | null;
  readonly isEmpty: boolean;
  readonly hasOwnAccounts: boolean;
};

/** What a person reads when the app is up: where it is, and what to do first. */
export function welcome({ address, note, place, stewardCode, isEmpty, hasOwnAccounts }: Started): string {
  const lines = [`Evenloop is ready at ${address}`];
  if (note) lines.push(note);
  lines.push(`Its data is in ${place}`);
  if (stewardCode !== null) {
    lines.push(
      '',
      `This registry has no steward yet. One-time steward code: ${stewardCode}`,
      `Sign up at ${address}/sign-up with it: that account is the steward's.`,
    );
    if (hasOwnAccounts) lines.push(`Who has an account enters it at ${address}/account.`);
  }
  if (isEmpty) {
    lines.push(
      '',
      'The record is empty. To look around in an invented world of about 400 runs, run in another terminal:',
      '  npm run seed:demo',
    );
  }
  lines.push('', 'Ctrl-C stops it.');
  const rule = '─'.repeat(60);
  return ['', rule, ...lines, rule, ''].join('\n');
}
