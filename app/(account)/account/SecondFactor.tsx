import { create } from 'qrcode';
import { Button } from '@/app/ui/Button';
import { OneButtonForm } from '@/app/ui/forms/OneButtonForm';
import { Minute, ZoneNote } from '@/app/ui/When';
import type { SecondFactorView } from '@/lib/registry/accounts/secondFactor';
import { beginOwnSecondFactor } from './actions';
import { ConfirmForm, EndForm } from './SecondFactorForms';

/** Where the second factor stands, and the next step. */
export function SecondFactor({ view, isAsked }: { view: SecondFactorView; isAsked: boolean }) {
  if (view.state === 'inUse') {
    return (
      <>
        <p>
          In use since <Minute at={view.since} /> (<ZoneNote />
          ). {view.recoveryCodesLeft} of 10 recovery codes are left.
        </p>
        <EndForm />
      </>
    );
  }
  return (
    <>
      {isAsked ? <p>Who decides over others’ runs should use one.</p> : null}
      {view.state === 'begun' ? (
        <>
          <p>Take this into an authenticator app, by the picture or by the key.</p>
          <QrCode text={view.address} />
          <p>
            Key: <code className="break-all">{view.secret.replace(/(.{4})(?=.)/g, '$1 ')}</code>
          </p>
        </>
      ) : null}
      <ConfirmForm isBegun={view.state === 'begun'} />
      <OneButtonForm action={beginOwnSecondFactor} className="mt-4 gap-2">
        <Button type="submit" variant={view.state === 'begun' ? 'secondary' : 'primary'}>
          {view.state === 'begun' ? 'Make another key' : 'Set up a second factor'}
        </Button>
      </OneButtonForm>
    </>
  );
}

/** The quiet zone around it, in modules (ISO/IEC 18004, 5.3.8). */
const QUIET = 4;

/** Dark on light in either appearance: readers expect it so. */
function QrCode({ text }: { text: string }) {
  const { size, data } = create(text, { errorCorrectionLevel: 'M' }).modules;
  const squares = Array.from(data).flatMap((isDark, i) =>
    isDark ? [`M${QUIET + (i % size)} ${QUIET + Math.floor(i / size)}h1v1h-1z`] : [],
  );
  const side = size + 2 * QUIET;
  return (
    <svg
      viewBox={`0 0 ${side} ${side}`}
      className="h-56 w-56"
      role="img"
      aria-label="The key as a picture, for an app to read"
      shapeRendering="crispEdges"
    >
      <rect width={side} height={side} fill="#fff" />
      <path d={squares.join('')} fill="#000" />
    </svg>
  );
}
