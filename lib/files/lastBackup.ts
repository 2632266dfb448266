import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';

/** In the data folder: when the last backup that was read again and found whole was begun. */
const LAST_BACKUP_FILE = 'last-backup';

export async function noteBackup(dataFolder: string, at: Date): Promise<void> {
  await writeFile(join(dataFolder, LAST_BACKUP_FILE), `${at.toISOString()}\n`, { mode: 0o600 });
}

/** Undefined where none was made, or its note cannot be read. */
export async function lastBackup(dataFolder: string): Promise<Date | undefined> {
  const text = await readFile(join(dataFolder, LAST_BACKUP_FILE), 'utf8').catch(() => '');
  const at = new Date(text.trim());
  return Number.isNaN(at.getTime()) ? undefined : at;
}
