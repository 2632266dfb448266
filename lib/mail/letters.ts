import type { Letter } from './letter';
import { withSecret } from './withSecret';

const CLOSING = 'If you know nothing of this, you can leave it: nothing happens without the link.';

export function letterToProve(to: string, site: string, secret: string): Letter {
  return {
    to,
    subject: 'Confirm your e-mail address',
    text: `Somebody gave this address for an account at ${site}

Open this page and confirm that it is yours. The link works for one day, once:
${withSecret(site, '/prove-address', secret)}

${CLOSING}
`,
  };
}

export function letterToReset(to: string, site: string, secret: string): Letter {
  return {
    to,
    subject: 'Choose a new password',
    text: `Somebody asked for a new password of your account at ${site}

Open this page to choose one. The link works for one hour, once:
${withSecret(site, '/new-password', secret)}

${CLOSING}
`,
  };
}

export function letterOfSecondSignUp(to: string, site: string): Letter {
  return {
    to,
    subject: 'You have an account already',
    text: `Somebody tried to open an account with this address at ${site}

There is one already, and it was left as it is. If that was you, sign in with your password, or ask for a new one on the page of sign-in. If it was not, nothing has to be done.
`,
  };
}

/** What changed, in a sentence, for whoever did not do it. */
export function letterOfChange(to: string, site: string, what: string): Letter {
  return {
    to,
    subject: 'Your account was changed',
    text: `${what}

This is about your account at ${site}
If you did not do it, ask for a new password on the page of sign-in and write to whoever runs this registry.
`,
  };
}

/** A token was made: what programs may do with it, and where it is ended. */
export function letterOfToken(
  to: string,
  site: string,
  { name, mayDo, days }: { name: string; mayDo: readonly string[]; days: number },
): Letter {
  return {
    to,
    subject: 'A token was made for your account',
    text: `A token with the name “${name}” was made for your account at ${site}
For ${days} days a program that has it may:
${mayDo.map((right) => `- ${right}`).join('\n')}

If you did not make it, end it here, and choose a new password:
${new URL('/account/tokens', site).href}
`,
  };
}

/** What a steward did to an account, with the reason, for its person. */
export function letterOfSuspension(to: string, site: string, subject: string, says: string): Letter {
  return {
    to,
    subject,
    text: `${says}

This is about your account at ${site}
Your account page: ${new URL('/account', site).href}
`,
  };
}
