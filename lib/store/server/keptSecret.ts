import { createPrivateKey, generateKeyPairSync, type KeyObject, randomBytes } from 'node:crypto';
import { link, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { ServerError } from './serverError';

/**
 * A random secret kept in a file of mode 0600, made at first use.
 * The file appears whole or not at all (written aside, then linked), so two first users agree on it.
 */
export async function keptSecret(
  file: string,
  make: () => string = () => randomBytes(32).toString('base64url'),
): Promise<string> {
  const existing = await readSecret(file);
  if (existing) return existing;
  const aside = `${file}.${process.pid}.${randomBytes(4).toString('hex')}`;
  await mkdir(dirname(file), { recursive: true, mode: 0o700 });
  await writeFile(aside, make(), { mode: 0o600, flag: 'wx' });
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

/** The name of the key in the data folder. */
export const SEAL_KEY_FILE = 'audit-key';

/** The Ed25519 key that signs the seals of the audit log (RFC 8410, PKCS #8 in PEM). */
export async function sealKey(folder: string): Promise<KeyObject> {
  return createPrivateKey(await keptSecret(join(folder, SEAL_KEY_FILE), newSealKey));
}

function newSealKey(): string {
  return generateKeyPairSync('ed25519').privateKey.export({ type: 'pkcs8', format: 'pem' }).toString();
}

/** The name of the secret in the data folder. */
export const SECRET_FILE = 'secret';

/** What signs the session cookies when NEXTAUTH_SECRET is not set. */
export function sessionSecret(folder: string): Promise<string> {
  return keptSecret(join(folder, SECRET_FILE));
}
