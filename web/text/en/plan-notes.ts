import type { NoteWords } from '../../plan/words/note-words.ts';

/** What the plan has to say, a sentence or two each. */
export const planNotes: NoteWords = {
  'base-joined': () =>
    'Worked flat in joined rnds, RS facing: do not turn. A beg ch of 3 or more counts as the first st.',
  'base-spiral': () =>
    'Worked flat in a spiral, RS facing: do not join, do not turn. Place a marker in the first st and move it up each rnd.',
  'base-lower-ending': ({ fromRound, stitches }, { stitch }) =>
    `From rnd ${fromRound} on the base is worked in ${stitches.map(stitch).join(' and ')}, so that its width comes out right.`,
  'wall-net': () => 'RS is the outside: cup the base so that it faces out. No more increases: the edge turns up.',
  'wall-sleeve': () =>
    'RS is the outside: cup the base so that it faces out. Try the sleeve on after every few rnds; it should need a gentle pull.',
  'mesh-spiral': () => 'Worked in a spiral: do not join. Place a marker in the first ch-sp and move it up each rnd.',
  'mesh-posts': ({ stitch: post }, { stitch }) =>
    `Work each ${stitch(post)} in the top of the st below, never in the ch. The last ch-sp of a rnd closes with the first st of the next.`,
  'mesh-vs': () => 'Work each V into the ch-sp of the V below, round its chains, never between two Vs.',
  'mesh-loops': () =>
    'Catch each loop in the middle of its ch. The first loop of a rnd starts from the last st of the rnd before, so the start moves back half a loop each rnd.',
  'mesh-holes': ({ widthMm, heightMm }, { length }) =>
    `On the container its holes are up to ${length(widthMm)} wide and ${length(heightMm)} high.`,
  'mesh-changes': () => 'The mesh changes with the container; the rnds say where.',
  'band-into-spaces': () => 'Work round the chains, into the ch-sps, at your usual tension.',
  'band-into-stitches': () => 'Work at your usual tension.',
  'band-try-on': () => 'Before you fasten off, put the container in: it should go in with a gentle pull.',
  'strap-length': ({ lengthMm }, { tape }) => `${tape(lengthMm)} free length, at full load.`,

  'cells-added': ({ added, cells }) => `${added} ch-sps are added: ${cells} from now on.`,
  'chains-from-here': ({ chains }) => `From here on, ch ${chains}.`,
  'ramp-up': () => 'Its first sts are lower: the spiral starts without a step.',
  'ramp-down': () => 'It gets lower towards its end: that brings the spiral down level.',
  'container-inside': () =>
    'From this rnd on work with the container inside, right round it. It stays in: to take it out, rip back to here.',
  'holes-for-cord': () => 'Its ch-sps are the holes for the cord.',
  'in-colour': ({ colour }) => `In colour ${colour}.`,
  'mark-round': () => 'Mark this rnd and try the base on.',

  'cover-chosen': ({ coverMm }, { length }) =>
    `It is to end at ${length(coverMm)}, as you chose; whole rnds come near that.`,
  'cover-shoulder': ({ coverMm }, { length }) =>
    `It is to end near the shoulder, at ${length(coverMm)}; whole rnds come near that.`,
  'cover-above-low-shoulder': ({ shoulderMm, coverMm }, { length }) =>
    `The shoulder, at ${length(shoulderMm)}, is too low to hold a full container upright: it goes on to ${length(coverMm)}.`,
  'cover-top-free': ({ coverMm }, { length }) =>
    `It ends at ${length(coverMm)}, so that the top stays free to hold and open.`,
  'cover-straight': ({ coverMm }, { length }) =>
    `It is to end near three quarters of the height, at ${length(coverMm)}; whole rnds come near that.`,

  'gauge-guessed': () =>
    'The gauge is a guess from the yarn. Measure the base as you go and the plan follows your hand.',
  'hook-unlike-yarn': ({ hookMm, usualMm: [from, to] }, { number }) =>
    `A ${number(hookMm, 2)} mm hook for this yarn? ${number(from, 2)} to ${number(to, 2)} mm is usual. Check hook and yarn.`,
  'yarn-unlike-gauge': ({ metresPer100g, usual: [from, to] }, { number }) =>
    `${number(metresPer100g)} m per 100 g does not go with stitches of this width: ${number(from)} to ${number(to)} m is usual. Check the label.`,
  'cover-low': ({ coverMm, leastMm }, { length }) =>
    `At ${length(coverMm)} it is low for a full container, which may tip out: ${length(leastMm)} or more is safer.`,
  'base-shape': ({ shape }) =>
    ({
      cone: 'With these counts the base rises like a cone.',
      cupped: 'With these counts the base cups a little; the container presses it flat.',
      'ruffle onset': 'With these counts the rim of the base may wave.',
      ruffle: 'With these counts the base ruffles.',
    })[shape],
  'mesh-too-tight': ({ fromRound, toRound, chains }) =>
    `The net will not go over in ${rounds(fromRound, toRound)}: ch ${chains} there, or let the plan choose.`,
  'mesh-loose': ({ fromRound, toRound, chains }) =>
    `The net hangs loose in ${rounds(fromRound, toRound)}: ch ${chains} there, or let the plan choose.`,
  'mesh-loose-at-narrow': ({ fromRound, toRound }) =>
    `In ${rounds(fromRound, toRound)} the net stands off: it has to pass a wider place below. That is right; a cord drawn through there closes it.`,
  'holes-larger': ({ mostMm, widthMm, heightMm }, { length }) =>
    `Holes of ${length(mostMm)} cannot be made with these stitches: the smallest are ${length(widthMm)} wide and ${length(heightMm)} high. Take a finer yarn.`,
  'no-mesh': () => 'There is no room for a round of net at this height: the band stands on the plain wall.',
  'mostly-sleeve': ({ wallRounds, meshRounds }) =>
    `This is mostly a sleeve: ${wallRounds} plain rnds and ${meshRounds} of net.`,
  'wall-loose': ({ heightMm, stitches, hugging }, { length }) =>
    `At ${length(heightMm)} it stands off the container: ${stitches} sts to pass the wider place below, where ${hugging} would hug it. To hug it, choose a top that is worked round the container.`,
  'band-too-tight': ({ stitchesMore }) =>
    `The band is too tight to go over the widest place: work ${stitchesMore} more ${stitchesMore === 1 ? 'st' : 'sts'} in its first rnd.`,
  'band-loose': ({ stitches, hugging }) =>
    `The band has to pass the widest place and is loose where it sits: ${stitches} sts where ${hugging} would hug it. Thread a drawstring through it, or choose a top that is worked round the container.`,
  'band-low': () => 'The band sits low for a full container, which may tip out: make the carrier higher.',
  'load-heavy': ({ massG }, { mass }) =>
    `Full it weighs up to ${mass(massG)}: too much for one cord on its own. Use a doubled cord that runs under the base.`,
  'load-too-heavy': ({ massG }, { mass }) =>
    `Full it weighs up to ${mass(massG)}: too heavy to wear on a crocheted strap. Carry it with a hand under the base.`,
  'strand-weak': ({ times }, { number }) =>
    `One knotted strand of this yarn breaks at about ${number(times, 1)} times the full weight: too close. Take a stronger yarn or more strands.`,

  'caution-children': () =>
    'Small children: cord loops can strangle. Keep it out of reach of children under three, and never let a child wear it at play, on a bicycle or asleep.',
  'caution-rules': () =>
    'Rules: EN 14682 covers cords on clothing for children up to 14 years and leaves out bags and purses. EN 71-1 covers toys; for children under three an older edition limits loops to 380 mm around and free cords to 220 mm. In the US, 16 CFR 1120 and ASTM F1816 cover drawstrings of children’s outerwear. None was written for a carrier like this: take them as a guide, and follow the rules where you live or sell.',
  'caution-test': ({ testMassG }, { mass }) =>
    `Before use: hang ${mass(testMassG)} from it (three times the full weight) for ten minutes, over something soft, and look at every seam. Look again after each wash.`,
  'caution-hot': () =>
    'Hot contents: fabric does not insulate and stretches when wet and warm. Fresh hot drinks scald at a touch; let them cool first.',
  'caution-glass': () =>
    'Glass: fabric does not stop glass from breaking. Do not use a container that is chipped or cracked.',
  'caution-flames': () => 'Keep it away from flames and hot plates.',

  'rim-exact': () => 'The rim measures what the container measures around.',
  'rim-off': ({ byMm }, { length }) =>
    `The rim is ${length(Math.abs(byMm))} ${byMm > 0 ? 'longer' : 'shorter'} than it should be around.`,
  lies: ({ shape }) =>
    ({
      cone: 'It rises like a cone.',
      cupped: 'It cups like a saucer.',
      flat: 'It lies flat.',
      'ruffle onset': 'Its rim may wave.',
      ruffle: 'Its rim ruffles.',
    })[shape],
  cells: ({ cells, skip, uneven }) =>
    `It carries ${cells} ch-sps${uneven ? `; some skip one st more or less than ${skip}` : ''}.`,
  'full-rounds': () => 'Every increase round is a full one.',
  'own-increases': ({ flat, customary }, { number }) =>
    `Your stitches lie flat with ${number(flat)} increases a round, not with the customary ${customary}.`,
  'ends-in': ({ stitch: last }, { stitch }) => `The last round is in ${stitch(last)}.`,

  'finished-here': ({ readingMm, carrier }, { length }) =>
    `At ${length(readingMm)}, the base is finished with this rnd${carrier === 'mat' ? '' : ': go on with the wall'}.`,
  'base-becomes': ({ ripBack, readingMm, rounds: count, stitches, lastStitch }, { length, stitch }) =>
    `${ripBack ? 'Rip back: at' : 'At'} ${length(readingMm)}, the base is worked in ${count} ${count === 1 ? 'rnd' : 'rnds'} with ${stitches} sts, the last in ${stitch(lastStitch)}.`,
  'maybe-a-round-more': () => 'Perhaps a round more: the next check tells.',
  'maybe-a-round-fewer': () => 'Perhaps a round fewer: the next check tells.',
  'one-round-more': ({ again, last }) =>
    `${again === null ? 'Work one more rnd that leaves the count as it is' : `Work rnd ${again} once more`}${last === null ? '' : `, then rnd ${last}`}.`,
  'last-round-now': ({ ripTo, last }) =>
    `Rip back to rnd ${ripTo}${last === null ? ' and end there' : `, then work rnd ${last}`}.`,
};

function rounds(from: number, to: number): string {
  return from === to ? `rnd ${from}` : `rnds ${from} to ${to}`;
}
