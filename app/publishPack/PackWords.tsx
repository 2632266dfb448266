import { Notice } from '@/app/ui/Notice';
import { Section } from '@/app/ui/Section';
import { MOST_CHARACTERS } from '@/lib/answers/publishText';
import { CopyText } from './CopyText';

interface PackWordsProps {
  /** Undefined where the address leaves no room for an answer. */
  text: string | undefined;
  citation: string;
}

/** What is pasted under a video, and how the result is named elsewhere. */
export function PackWords({ text, citation }: PackWordsProps) {
  return (
    <Section
      id="words"
      title="Words"
      note="Made from the numbers as they stand now, and from nothing else. Leave the interval, the counts and the address in."
    >
      {text === undefined ? (
        <Notice kind="info" title="There is no text for under a video: the address alone is too long.">
          <p>Compare fewer setups at once.</p>
        </Notice>
      ) : (
        <CopyText
          label="Under a video"
          text={text}
          rows={16}
          note={`${text.length} characters of ${MOST_CHARACTERS} at most`}
        />
      )}
      <CopyText label="Citation" text={citation} rows={5} />
    </Section>
  );
}
