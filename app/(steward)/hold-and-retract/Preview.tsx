import { Link } from '@/app/ui/Link';
import { Notice } from '@/app/ui/Notice';
import { Section } from '@/app/ui/Section';
import type { ManyPreview } from '@/lib/registry/review/manyRuns';
import type { ManyAct } from '@/lib/run/manyActs';
import { ConfirmForm } from './ConfirmForm';
import { ManyTable } from './ManyTable';
import { ACT_WORDS, runsText } from './words';

/** What the act would change, the runs themselves, and the reason that is asked for. */
export function Preview({
  act,
  preview,
  backHref,
}: {
  act: ManyAct;
  preview: ManyPreview;
  backHref: string;
}) {
  const { runs, refused, counted, classes, models } = preview;
  return (
    <Section id="preview" title={`${ACT_WORDS[act].verb} ${runsText(runs.length)}`} wide>
      <p className="mb-3">
        <Link className="link" href={backHref}>
          Back to the list
        </Link>
      </p>
      {refused.length > 0 ? (
        <Notice
          kind="caution"
          title={`${runsText(refused.length)} of those chosen would be left as they are.`}
        >
          {refused.map(({ number, why }) => `Run ${number}: ${why}`).join('; ')}.
        </Notice>
      ) : null}
      <p className="max-w-[46rem]">{changeText(act, counted, classes, models)}</p>
      <div className="my-5">
        <ManyTable caption="Runs that would be changed" rows={runs} />
      </div>
      <ConfirmForm act={act} seen={runs.map(({ seen }) => seen)} />
    </Section>
  );
}

function changeText(act: ManyAct, counted: number, classes: readonly string[], models: number): string {
  if (counted === 0) return 'What counts stays as it is: no ranking is fitted again.';
  const moves = act === 'lift' ? 'would count again' : 'would count no more';
  const learning = `${models} ${models === 1 ? 'model learns its' : 'models learn their'} road load anew`;
  return `${runsText(counted)} ${moves}. Fitted again: ${classes.join(', ')}; ${learning}.`;
}
