import type { Dispatch } from 'react';
import type { HandPlacement } from '../../vision/container/hand-placement.ts';
import type { MeasureResult, ProblemCode } from '../../vision/measurement.ts';
import { type Action, type Job, measurementOf } from '../app/app-state.ts';
import { measurementToContainer } from '../engine/measurement-to-container.ts';
import { TAPE_FOLD } from '../sizes/TapeComparison.tsx';
import { TapeDoubt } from '../sizes/TapeDoubt.tsx';
import { type Text, useText } from '../text/text.ts';
import { openFold } from '../ui/Fold.tsx';
import { Note } from '../ui/Note.tsx';
import { type Doubt, doubtsOf } from './verdict.ts';

/** What to look at again, and the question that a bump asks. */
export function Doubts({
  job,
  result,
  dispatch,
}: {
  readonly job: Job;
  readonly result: MeasureResult;
  readonly dispatch: Dispatch<Action>;
}) {
  const text = useText();
  const about = (doubt: Doubt) => text.check[ABOUT[doubt] ?? 'aboutPhoto'];
  const hand = job.edits.hand ?? [];
  const measurement = measurementOf(job);
  const answerBump = (isPart: boolean) => dispatch({ type: 'edit', edits: { hand: withBump(hand, isPart) } });
  return (
    <div className="stack stack--tight" aria-live="polite">
      {doubtsOf(result, job).map((doubt) =>
        doubt === 'tape-disagrees' && measurement ? (
          <TapeDoubt
            key={doubt}
            photo={measurementToContainer(measurement)}
            tape={job.tape}
            onTape={(tape) => dispatch({ type: 'tape', tape })}
            onReadAgain={() => openFold(TAPE_FOLD)}
          />
        ) : (
          <Note key={doubt} kind="warn" title={about(doubt)}>
            {wordsOf(doubt, text)}
            {doubt === 'wide' && (
              <div className="row">
                <button type="button" className="button" onClick={() => openFold(TAPE_FOLD)}>
                  {text.sizes.apart.readAgain}
                </button>
              </div>
            )}
            {doubt === 'hand-bump' && (
              <div className="row">
                <button type="button" className="button" onClick={() => answerBump(true)}>
                  {text.check.bumpYes}
                </button>
                <button type="button" className="button" onClick={() => answerBump(false)}>
                  {text.check.bumpNo}
                </button>
              </div>
            )}
          </Note>
        ),
      )}
    </div>
  );
}

function wordsOf(doubt: Doubt, text: Text): string {
  return doubt in text.check.doubts
    ? text.check.doubts[doubt as keyof Text['check']['doubts']]
    : text.problems[doubt as ProblemCode];
}

/** Walls that she is sure of, or the last one moved taken off the outline again. */
function withBump(hand: readonly HandPlacement[], isPart: boolean): readonly HandPlacement[] {
  if (isPart) return hand.map((each) => (each.feature === 'wall' ? { ...each, isSure: true } : each));
  const last = hand.findLast((each) => each.feature === 'wall');
  if (last?.feature !== 'wall') return hand;
  const [{ xPx, yPx }] = last.points;
  const left: HandPlacement = { feature: 'left-out', pathPx: [[xPx, yPx]], radiusPx: BUMP_SDS * last.sdPx };
  return [...hand.filter((each) => each !== last), left];
}
const BUMP_SDS = 6;

/** Which part of the photo a problem is about. */
const ABOUT: Partial<Record<Doubt, 'aboutCard' | 'aboutCoin' | 'aboutContainer'>> = {
  'card-beside-edges': 'aboutCard',
  'no-card': 'aboutCard',
  'card-cut-off': 'aboutCard',
  'card-too-small': 'aboutCard',
  'card-too-oblique': 'aboutCard',
  'glare-on-card-edge': 'aboutCard',
  'card-far-away': 'aboutCard',
  'card-square-on': 'aboutCard',
  'which-arrangement': 'aboutCard',
  'arrangement-uncertain': 'aboutCard',
  'no-round-reference': 'aboutCoin',
  'round-too-small': 'aboutCoin',
  'round-too-oblique': 'aboutCoin',
  'round-not-on-table': 'aboutCoin',
  'round-far-away': 'aboutCoin',
  'round-seen-two-ways': 'aboutCoin',
  'stands-or-lies': 'aboutContainer',
  'no-container': 'aboutContainer',
  'container-cut-off': 'aboutContainer',
  'not-round': 'aboutContainer',
  'too-flat': 'aboutContainer',
  'base-hidden': 'aboutContainer',
  'two-containers': 'aboutContainer',
  'fit-failed': 'aboutContainer',
  'too-uncertain': 'aboutContainer',
  'base-not-visible': 'aboutContainer',
  'which-end-is-base': 'aboutContainer',
  'outline-uncertain': 'aboutContainer',
  'maybe-not-round': 'aboutContainer',
  'hand-bump': 'aboutContainer',
  'hand-against-edges': 'aboutContainer',
};
