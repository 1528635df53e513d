import type { Plan } from '../../sizing/plan.ts';
import { useSettings } from '../app/use-settings.ts';
import { massText } from '../text/estimate-text.ts';
import { useText } from '../text/text.ts';
import { useSay } from './use-voice.ts';

/** What hangs on it, and what to mind before it is carried. */
export function LoadAndCautions({ plan }: { readonly plan: Plan }) {
  const words = useText().plan;
  const say = useSay();
  return (
    <>
      {plan.strap && (
        <section className="panel stack stack--tight" aria-labelledby="plan-load">
          <h2 id="plan-load">{words.loadTitle}</h2>
          <LoadText plan={plan} />
        </section>
      )}
      <section className="panel stack stack--tight" aria-labelledby="plan-cautions">
        <h2 id="plan-cautions">{words.cautionsTitle}</h2>
        <ul className="plan__cautions">
          {plan.cautions.map((caution) => (
            <li key={caution.code}>{say(caution)}</li>
          ))}
        </ul>
      </section>
    </>
  );
}

export function LoadText({ plan }: { readonly plan: Plan }) {
  const words = useText().plan;
  const wording = useSettings();
  const { load } = plan;
  const full = massText(load.fullMassG, wording);
  return (
    <p>
      {load.emptyMassG === null ? words.loadNoContainer(full) : words.load(full)} {words.seams}
    </p>
  );
}
