import { Secret, TOTP } from 'otpauth';

const PERIOD_S = 30;
/** Of the device's clock, either way: RFC 6238, 5.2 advises one step for the way that a code travels. */
const STEPS_OFF = 1;

/** As every authenticator app takes it: SHA-1, six digits, 30 s (RFC 6238, 4 and RFC 4226, 5.3). */
function generatorOf(secret: string, label: string): TOTP {
  return new TOTP({
    issuer: 'Evenloop',
    label,
    algorithm: 'SHA1',
    digits: 6,
    period: PERIOD_S,
    secret: Secret.fromBase32(secret),
  });
}

/** 160 bits of chance in base 32, as RFC 4226, 4 recommends. */
export function newTimeSecret(): string {
  return new Secret({ size: 20 }).base32;
}

/** The address that an authenticator app reads out of the picture. */
export function timeSecretAddress(secret: string, label: string): string {
  return generatorOf(secret, label).toString();
}

/** The time step that the code belongs to, or undefined where it is not a code of about now. */
export function stepOfCode(secret: string, code: string, now: Date): number | undefined {
  if (!/^\d{6}$/.test(code)) return undefined;
  const timestamp = now.getTime();
  const off = generatorOf(secret, 'code').validate({ token: code, timestamp, window: STEPS_OFF });
  return off === null ? undefined : Math.floor(timestamp / 1000 / PERIOD_S) + off;
}

/** The code of a moment, as a device shows it. */
export function codeAt(secret: string, at: Date): string {
  return generatorOf(secret, 'code').generate({ timestamp: at.getTime() });
}
