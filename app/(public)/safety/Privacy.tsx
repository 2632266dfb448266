import { Section } from '@/app/ui/Section';

/** What is kept of people and what is taken off what they send. */
export function Privacy() {
  return (
    <Section id="privacy" title="Privacy">
      <div className="prose">
        <h3>Kept of an account</h3>
        <ul>
          <li>
            An e-mail address to sign in with and to send you what you ask for: a link that confirms it, or
            one to a new password. Beside these, letters tell you only of changes to what protects the
            account. It is shown to nobody but the stewards.
          </li>
          <li>
            A password as a salted hash, never as text; or the identity that a sign-in provider vouches for.
          </li>
          <li>If you use a second factor: its key, and its recovery codes as hashes.</li>
          <li>The display name you choose. It stands beside your runs, so it need not be your own name.</li>
          <li>
            How often something was tried in the last hour with an e-mail address or from a network, each by
            its hash alone, so that passwords cannot be tried at will.
          </li>
          <li>
            Where you are signed in: browser and system in words, when it began and when it was last seen,
            forgotten three months after that. Your account page lists them, and you can end each.
          </li>
          <li>
            A cookie that says you are signed in, and one with the units, the decimal mark and the appearance
            that you chose; without an account only the second, once you have chosen. Another says that this
            browser has signed in before, so that nobody keeps you out by trying your address. None follows
            you elsewhere, and no page loads anything from another site.
          </li>
        </ul>
        <h3>Kept of a car</h3>
        <p>
          Model, a name of your own for it, stated masses and capacities, and calibrations. Never a number
          plate, never a vehicle identification number. Readers see the model, not the name.
        </p>
        <h3>Taken off what you send</h3>
        <ul>
          <li>
            Photos are encoded anew from their pixels: place, device and owner go. The time of capture is kept
            only if you ask for it.
          </li>
          <li>
            A trace keeps its ends to itself: nothing within 500 m of its start and finish is shown, unless
            you choose another distance. What is shown of the rest is in metres from its own first place,
            without latitude, longitude or time of day.
          </li>
          <li>A loop’s outline is likewise in metres from its start. Do not name your home in it.</li>
        </ul>
        <h3>Seen by whom</h3>
        <p>
          Until a run is approved, its tester and the reviewers see it. From then on it is public with its
          readings, conditions, photos and findings, and with its day and hour, unless you choose on your
          account page that readers see no more than the month; what that does not hide is said there. Cover
          in a photo what is nobody’s business: a plate in a mirror, a name on a display, a map.
        </p>
        <h3>What stays</h3>
        <p>
          The record is kept whole: revisions, decisions and reasons are not removed, and a retracted run
          stays readable with the reason beside it.
        </p>
        <h3>Taking it out, and erasing it</h3>
        <p>
          Your account page gives you all that is kept of you in one archive, and erases the account. Address,
          name, password, sign-ins, tokens, notices, drafts and the originals of recordings then go for good.
          Runs that were sent in stay under a name that is nobody’s, with the photos that they were decided
          by: those are the evidence, and were stripped of place, device and owner when they came. A loop that
          you described stays as well.
        </p>
        <h3>How long</h3>
        <p>
          The log of acts is kept as long as the registry, since it is what the record is checked by; what
          names you in it is bound by a secret of your account that erasing destroys. Counts of tries go after
          an hour, letters that could not be sent after a week, photos taken off a draft after a day. Backups
          hold what there was when they were made, for as long as whoever runs this installation keeps them.
        </p>
      </div>
    </Section>
  );
}
