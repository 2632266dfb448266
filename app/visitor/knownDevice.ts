import { cookies } from 'next/headers';
import { deviceOfMark, newDeviceMark } from '@/lib/access/knownDevice';

const COOKIE = 'evenloop-device';
/** Browsers keep a cookie for 400 days at most. */
const MAX_AGE_S = 400 * 24 * 60 * 60;

/** Which known device asks, where this browser has signed in with the address before. */
export async function knownDevice(email: string): Promise<string | undefined> {
  const secret = process.env.NEXTAUTH_SECRET;
  return secret ? deviceOfMark(secret, email, (await cookies()).get(COOKIE)?.value) : undefined;
}

/** At sign-in: this browser gets through from now on while strangers try at the address. It remembers one address. */
export async function rememberDevice(email: string): Promise<void> {
  const secret = process.env.NEXTAUTH_SECRET;
  if (!secret || (await knownDevice(email)) !== undefined) return;
  (await cookies()).set(COOKIE, newDeviceMark(secret, email), {
    maxAge: MAX_AGE_S,
    path: '/api/auth',
    httpOnly: true,
    sameSite: 'lax',
    secure: process.env.NEXTAUTH_URL?.startsWith('https:') ?? false,
  });
}
