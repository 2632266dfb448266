import { hash, verify } from '@node-rs/argon2';
import { ZxcvbnFactory } from '@zxcvbn-ts/core';
import { adjacencyGraphs, dictionary } from '@zxcvbn-ts/language-common';
import { type InputIssue, InvalidInput } from '@/lib/run/errors';

/**
 * Argon2id with 19 MiB and two passes: the first recommendation of the OWASP password storage cheat sheet.
 * `algorithm: 2` is the library's `Argon2id`, a const enum that isolated modules cannot read.
 */
const ARGON2ID = { algorithm: 2, memoryCost: 19_456, timeCost: 2, parallelism: 1 } as const;

/** NIST SP 800-63B asks for at least 8 and room for long ones; hashing bounds the upper end. */
const LEAST_LENGTH = 10;
const MOST_LENGTH = 200;
/** Of zxcvbn's 0 to 4: at least 10⁶ guesses. */
const LEAST_SCORE = 2;

/** What anyone tries first here. */
const SITE_WORDS = [
  'evenloop',
  'consumption',
  'registry',
  'reviewer',
  'steward',
  'tester',
  'electric',
  'kilowatt',
];

let estimator: ZxcvbnFactory | undefined;

/** Throws `InvalidInput` on the field `path` for a password that is short or easy to guess. */
export function requireStrongPassword(password: string, path: string, knownAboutPerson: string[]): void {
  const issue = weakness(password, path, knownAboutPerson);
  if (issue !== undefined) throw new InvalidInput([issue]);
}

function weakness(password: string, path: string, knownAboutPerson: string[]): InputIssue | undefined {
  if (password.length < LEAST_LENGTH) {
    return {
      path,
      what: `The password has fewer than ${LEAST_LENGTH} characters.`,
      why: 'Short passwords are found by trying.',
      fix: 'Use a longer one; a few unrelated words are easy to keep in mind.',
    };
  }
  if (password.length > MOST_LENGTH) {
    return {
      path,
      what: `The password has more than ${MOST_LENGTH} characters.`,
      why: 'Hashing it would take too long.',
      fix: 'Use a shorter one.',
    };
  }
  estimator ??= new ZxcvbnFactory({ dictionary, graphs: adjacencyGraphs });
  // What anyone knows of the person adds nothing: the rest has to carry the password alone.
  const known = wordsOf([...knownAboutPerson, ...SITE_WORDS]);
  const isCommon = estimator.check(password).score < LEAST_SCORE;
  const rest = [estimator.check(password, known), estimator.check(without(password, known))];
  if (!isCommon && rest.every(({ score }) => score >= LEAST_SCORE)) return undefined;
  return {
    path,
    what: 'The password is easy to guess.',
    why: isCommon
      ? 'It is close to passwords that many people use, or to a pattern on the keyboard.'
      : 'Most of it is your name, your address or a word of this site, which are tried first.',
    fix: 'Add unrelated words, or let a password manager make one.',
  };
}

function wordsOf(texts: readonly string[]): string[] {
  return texts
    .flatMap((text) => text.toLowerCase().split(/[^\p{L}\p{N}]+/u))
    .filter((word) => word.length >= 3);
}

function without(password: string, words: readonly string[]): string {
  return words.reduce((rest, word) => rest.replaceAll(word, ''), password.toLowerCase());
}

export function hashPassword(password: string): Promise<string> {
  return hash(password, ARGON2ID);
}

/** A hash of nothing in particular, so that a missing account costs as much time as a wrong password. */
let decoy: Promise<string> | undefined;

export async function passwordMatches(storedHash: string | null, password: string): Promise<boolean> {
  if (password.length > MOST_LENGTH) return false;
  if (storedHash === null) {
    decoy ??= hashPassword('the decoy of accounts that do not exist');
    await verify(await decoy, password);
    return false;
  }
  return verify(storedHash, password);
}
