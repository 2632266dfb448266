export interface Example {
  words: string;
  /** For a command line: TOKEN, RUN and ETAG are the reader's. */
  command: string;
}

const BEARER = '-H "Authorization: Bearer $TOKEN"';
const JSON_SENT = `-H 'Content-Type: application/json'`;
const IF_MATCH = '-H "If-Match: $ETAG"';

/** One run from its first reading to its reviewer, in the order in which it is driven. The tests send them as they stand. */
export function writeExamples(base: string): readonly Example[] {
  return [
    {
      words: 'Begin a draft. The answer has its id, RUN below, and its version as ETag.',
      command: lines(
        `curl -i -X POST "${base}/own/runs"`,
        BEARER,
        JSON_SENT,
        `-H 'Idempotency-Key: drive-of-14-may'`,
        `-d '{"fields": {"startedAtLocal": "2026-05-14T09:30", "utcOffsetMin": "60"}}'`,
      ),
    },
    {
      words: 'Add what the display shows, to the version that you saw.',
      command: lines(
        `curl -i -X PATCH "${base}/own/runs/$RUN/draft"`,
        BEARER,
        IF_MATCH,
        JSON_SENT,
        `-d '{"fields": {"tripEnergy": "32.9", "tripEnergyUnit": "kWh"}}'`,
      ),
    },
    {
      words: 'Put the recording to it.',
      command: lines(
        `curl -X PUT "${base}/own/runs/$RUN/recording?name=drive.gpx"`,
        BEARER,
        `-H 'Content-Type: application/gpx+xml'`,
        '--data-binary @drive.gpx',
      ),
    },
    {
      words: 'Put a photo to it, with what it shows.',
      command: lines(
        `curl -X POST "${base}/own/runs/$RUN/photos?kind=finishDisplay"`,
        BEARER,
        `-H 'Content-Type: image/jpeg'`,
        '--data-binary @finish.jpg',
      ),
    },
    {
      words: 'Send it in, unless it fails a rule.',
      command: lines(
        `curl -X POST "${base}/own/runs/$RUN/submission"`,
        BEARER,
        IF_MATCH,
        JSON_SENT,
        `-H 'Idempotency-Key: send-drive-of-14-may'`,
        `-d '{"failing": "draft"}'`,
      ),
    },
  ];
}

function lines(...parts: readonly string[]): string {
  return parts.join(' \\\n  ');
}
