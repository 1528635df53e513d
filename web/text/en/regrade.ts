import type { RegradeWords } from '../../plan/words/regrade-words.ts';

export const regrade: RegradeWords = {
  title: 'Kept from your pattern',
  notes: {
    'stitch-assumed': ({ start, stitch }, { longStitch }) =>
      `You start with ${start}, so your base is taken to be in ${longStitch(stitch)}.`,
    'gauge-from-pattern': ({ stitchWidthMm, roundHeightMm }, { number }) =>
      `Your stitches, worked out from the bottle your pattern fits: ${number(stitchWidthMm.value, 1)} mm wide, ${number(roundHeightMm.value, 1)} mm high.`,
    'ease-kept': ({ easeRatio }, { percent }) => {
      if (Math.abs(easeRatio) < 0.005) return 'The rim is as long as the bottle is round, as in yours.';
      return `The rim is ${percent(Math.abs(easeRatio))} ${easeRatio > 0 ? 'longer' : 'shorter'} than the bottle is round, as in yours.`;
    },
    'base-kept': ({ start, perRound }) => `The base starts with ${start} and adds ${perRound} a round, as yours.`,
    'last-round-adds': ({ round, adds, usual }) => `Round ${round} adds ${adds} instead of ${usual}, to meet the size.`,
    'cells-uneven': ({ cells, stitches, usual }) =>
      `${stitches} stitches carry ${cells} spaces, so some stand on more or fewer than ${usual} stitches.`,
    'chains-fitted': ({ from, to }) => `Your chains of ${from} would not sit well there: some spaces have ${to}.`,
    'band-lower': ({ from, to }) => `There is no room for ${from} band rounds: it has ${to}.`,
    'cover-kept': () => 'It reaches as high on the bottle as yours does.',
    'cover-usual': () => 'You did not count the rounds above the base, so it ends where such a carrier usually does.',
  },
  disagrees: {
    'base-width': ({ baseMm, containerMm }, { length }) =>
      `Your base comes out ${length(baseMm.value)} across, the bottle it is for is ${length(containerMm.value)}: check the counts, the gauge or the bottle.`,
    'taller-than-container': ({ patternMm, containerMm }, { length }) =>
      `Your rounds reach ${length(patternMm)} up, the bottle they are for is ${length(containerMm)} high: check the rounds, the chains or the bottle.`,
  },
  notation: {
    'nothing-written': () => 'Type your rounds, such as 6, 12, 18, 24.',
    'not-understood': (found) => `“${found}” is not understood. Write 12 x ch5, 14 rounds, band 3 or wall 2.`,
    'said-twice': (found) => `“${found}” says a second time what was said before.`,
    'base-missing': () => 'The stitches of the base are missing, such as 6, 12, 18, 24.',
    'count-out-of-range': (found) => `“${found}” is too small or too large.`,
    'base-shrinks': (found) => `A base does not shrink: ${found} is fewer than the round before.`,
    'base-more-than-doubles': (found) => `No round more than doubles its stitches: ${found} is too many.`,
    'rounds-without-cells': () => 'Say which spaces these rounds have, such as 12 x ch5; plain rounds are “wall 14”.',
    'more-cells-than-stitches': (found) => `“${found}” has more spaces than the base has stitches.`,
  },
  place: (sentence, place) => `${sentence} (Place ${place}.)`,
  screen: {
    title: 'My rounds for another bottle',
    lead: 'Type the rounds you have for one bottle. You get them for another one.',
    takeKept: 'Or take a plan you kept',
    choose: 'Choose …',
    rounds: 'Your rounds, in US terms',
    example: 'For example 6, 12, 18, 24; 12 x ch5; 14 rounds; band 3',
    parts:
      'Stitches after each round of the base; spaces and chains of the net, or 12 x dc ch2; its rounds; wall 2; band 3; strap 110 cm.',
    madeFor: 'The bottle they are for',
    across: 'Across',
    high: 'High',
    ownGauge: 'My stitches are those of my swatch',
    forTitle: 'The other bottle',
    inHand: 'The one in hand',
    addSize: 'One more size',
    removeSize: 'Without this size',
    which: 'Which one',
    typed: 'Type its sizes',
    result: 'Your rounds there',
    missing: 'Both bottles need a size across and a height.',
    open: 'Make a plan of it',
    copy: 'Copy as text',
    from: 'From your rounds:',
    change: 'Change them',
    without: 'Plan without them',
  },
  sizes: {
    title: 'All sizes',
    order: (names) => `Sizes: ${names}. One number stands for all of them.`,
    sizes: (name, across, high) => `${name}: ${across} across, ${high} high`,
    start: (stitches) => `Rnd 1: start with ${stitches} sts.`,
    adds: (round, adds, stitches) => `Rnd ${round}: inc ${adds} times, evenly spread. (${stitches} sts)`,
    plain: (round, stitches) => `Rnd ${round}: work even. (${stitches} sts)`,
    wall: (rounds) => `Wall: ${rounds} rnds.`,
    mesh: (cells, chains, rounds) => `Net: ${cells} spaces of ch ${chains}, ${rounds} rnds.`,
    changes: 'In some sizes the spaces change higher up: see the pattern of that size.',
    band: (stitches, rounds) => `Band: ${stitches} sts, ${rounds} rnds.`,
    strap: (length) => `Strap: ${length}.`,
    yarn: (metres) => `Yarn: about ${metres} m.`,
  },
};
