import { increaseFlags, spread } from '../base/flat-circle.ts';
import { compressSteps } from '../compress-steps.ts';
import type { Step } from '../plan.ts';
import { type FabricStitch, STITCH_FACTS } from '../stitches.ts';

export interface ShapedRound {
  /** Stitches of the round before; 0 to start in a ring. */
  readonly from: number;
  readonly to: number;
  readonly stitch: FabricStitch;
  /** Closed with a slip stitch and started with a turning chain; else a spiral. */
  readonly joined: boolean;
  /** Shift the shaping by half a gap against the round before. */
  readonly staggered: boolean;
}

/** Steps of a round of one stitch that goes from one count to another, shaping spread evenly. */
export function shapedRound(round: ShapedRound): Step[] {
  if (round.from === 0) return ringRound(round);
  const places = round.to >= round.from ? increasing(round) : decreasing(round);
  return compressSteps(round.joined ? joinedRound(places, round.stitch) : places);
}

function ringRound({ to, stitch, joined }: ShapedRound): Step[] {
  const { turningChain, chainCounts } = STITCH_FACTS[stitch];
  const counts = joined && chainCounts;
  return [
    { do: 'ring' },
    { do: 'turning-chain', chains: turningChain, countsAs: counts ? stitch : null },
    { do: 'stitch', stitch, into: 'ring', times: counts ? to - 1 : to },
    ...(joined ? [{ do: 'join' } as const] : []),
  ];
}

function increasing({ from, to, stitch, staggered }: ShapedRound): Step[] {
  const plain: Step = { do: 'stitch', stitch, into: 'stitch', times: 1 };
  const increase: Step = { do: 'increase', stitch, made: 2 };
  return increaseFlags(from, to - from, staggered).map((isIncrease) => (isIncrease ? increase : plain));
}

function decreasing({ from, to, stitch, staggered, joined }: ShapedRound): Step[] {
  const decreases = from - to;
  const flags = spread(decreases, to).map((extra) => extra > 0);
  const shift = staggered ? Math.floor(to / (2 * decreases)) : 0;
  const turned = flags.map((_, index) => flags[(index + shift) % to]);
  // The turning chain of a joined round stands for one plain stitch, so the round must not start with a decrease.
  while (joined && turned[0]) turned.push(turned.shift() as boolean);
  return turned.map((together) =>
    together ? { do: 'together', stitch, joined: 2 } : { do: 'stitch', stitch, into: 'stitch', times: 1 },
  );
}

function joinedRound(places: readonly Step[], stitch: FabricStitch): Step[] {
  const { turningChain, chainCounts } = STITCH_FACTS[stitch];
  if (!chainCounts) return [{ do: 'turning-chain', chains: turningChain, countsAs: null }, ...places, { do: 'join' }];
  const second: Step[] = places[0].do === 'increase' ? [{ do: 'stitch', stitch, into: 'same', times: 1 }] : [];
  return [
    { do: 'turning-chain', chains: turningChain, countsAs: stitch },
    ...second,
    ...places.slice(1),
    { do: 'join' },
  ];
}
