import { randomBytes } from 'node:crypto';
import { link, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { ServerError } from './serverError';

/**
 * A random secret kept in a file of mode 0600, made at first use.
 * The file appears whole or not at all (written aside, then linked), so two first users agree on it.
 */
export async function keptSecret(file: string): Promise<string> {
  const existing = await readSecret(file);
  if (existing) return existing;
  const aside = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  await writeFile(aside, randomBytes(32).toString('base64url'), { mode: 0o600, flag: 'wx' });
  try {
    await link(aside, file);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
  } finally {
    await rm(aside, { force: true });
  }
  const secret = await readSecret(file);
  if (!secret) throw new ServerError(`${file} is empty: remove it, and a new secret is made.`);
  return secret;
}

async function readSecret(file: string): Promise<string | undefined> {
  try {
    return (await readFile(file, 'utf8')).trim();
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return undefined;
    throw error;
  }
}

/** What signs the session cookies when NEXTAUTH_SECRET is not set. */
export function sessionSecret(folder: string): Promise<string> {
  return keptSecret(join(folder, 'secret'));
}
