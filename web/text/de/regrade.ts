import type { RegradeWords } from '../../plan/words/regrade-words.ts';

export const regrade: RegradeWords = {
  title: 'Aus deiner Anleitung übernommen',
  notes: {
    'stitch-assumed': ({ start, stitch }, { longStitch }) =>
      `Du beginnst mit ${start}, also gilt dein Boden als in ${longStitch(stitch)} gehäkelt.`,
    'gauge-from-pattern': ({ stitchWidthMm, roundHeightMm }, { number }) =>
      `Deine Maschen, errechnet aus der Flasche, zu der deine Anleitung passt: ${number(stitchWidthMm.value, 1)} mm breit, ${number(roundHeightMm.value, 1)} mm hoch.`,
    'ease-kept': ({ easeRatio }, { percent }) => {
      if (Math.abs(easeRatio) < 0.005) return 'Der Rand ist so lang wie der Umfang der Flasche, wie bei dir.';
      return `Der Rand ist ${percent(Math.abs(easeRatio))} ${easeRatio > 0 ? 'länger' : 'kürzer'} als der Umfang der Flasche, wie bei dir.`;
    },
    'base-kept': ({ start, perRound }) =>
      `Der Boden beginnt mit ${start} und nimmt je Runde ${perRound} zu, wie deiner.`,
    'last-round-adds': ({ round, adds, usual }) =>
      `Runde ${round} nimmt ${adds} statt ${usual} zu, damit die Größe stimmt.`,
    'cells-uneven': ({ cells, stitches, usual }) =>
      `${stitches} Maschen tragen ${cells} Bögen, deshalb stehen manche auf mehr oder weniger als ${usual} Maschen.`,
    'chains-fitted': ({ from, to }) => `Deine ${from} Luftmaschen säßen dort nicht gut: Manche Bögen haben ${to}.`,
    'band-lower': ({ from, to }) => `Für ${from} Randrunden ist kein Platz: Es sind ${to}.`,
    'cover-kept': () => 'Es reicht so hoch an der Flasche wie deins.',
    'cover-usual': () =>
      'Du hast die Runden über dem Boden nicht gezählt; es endet, wo solche Stücke üblicherweise enden.',
  },
  disagrees: {
    'base-width': ({ baseMm, containerMm }, { length }) =>
      `Dein Boden wird ${length(baseMm.value)} breit, die Flasche dazu hat ${length(containerMm.value)}: Prüf die Maschenzahlen, die Maschenprobe oder die Flasche.`,
    'taller-than-container': ({ patternMm, containerMm }, { length }) =>
      `Deine Runden reichen ${length(patternMm)} hoch, die Flasche dazu ist ${length(containerMm)} hoch: Prüf die Runden, die Luftmaschen oder die Flasche.`,
  },
  notation: {
    'nothing-written': () => 'Schreib deine Runden, etwa 6, 12, 18, 24.',
    'not-understood': (found) => `„${found}“ ist nicht zu verstehen. Schreib 12 x ch5, 14 rounds, band 3 oder wall 2.`,
    'said-twice': (found) => `„${found}“ sagt ein zweites Mal, was schon dasteht.`,
    'base-missing': () => 'Die Maschen des Bodens fehlen, etwa 6, 12, 18, 24.',
    'count-out-of-range': (found) => `„${found}“ ist zu klein oder zu groß.`,
    'base-shrinks': (found) => `Ein Boden schrumpft nicht: ${found} ist weniger als die Runde davor.`,
    'base-more-than-doubles': (found) => `Keine Runde mehr als verdoppelt ihre Maschen: ${found} ist zu viel.`,
    'rounds-without-cells': () => 'Sag, welche Bögen diese Runden haben, etwa 12 x ch5; glatte Runden sind „wall 14“.',
    'more-cells-than-stitches': (found) => `„${found}“ hat mehr Bögen, als der Boden Maschen hat.`,
  },
  place: (sentence, place) => `${sentence} (Stelle ${place}.)`,
  screen: {
    title: 'Meine Runden für eine andere Flasche',
    lead: 'Gib die Runden ein, die du für eine Flasche hast. Du bekommst sie für eine andere.',
    takeKept: 'Oder nimm einen Plan, den du aufbewahrt hast',
    choose: 'Wählen …',
    rounds: 'Deine Runden, mit US-Abkürzungen',
    example: 'Zum Beispiel 6, 12, 18, 24; 12 x ch5; 14 rounds; band 3',
    parts:
      'Maschen nach jeder Runde des Bodens; Bögen und Lm des Netzes, oder 12 x dc ch2 für Stäbchen; seine Runden (rounds); glatte Runden (wall 2); Rand (band 3); Kordel (strap 110 cm).',
    madeFor: 'Die Flasche, für die sie sind',
    across: 'Durchmesser',
    high: 'Höhe',
    ownGauge: 'Meine Maschen sind die meiner Maschenprobe',
    forTitle: 'Die andere Flasche',
    inHand: 'Die aktuelle',
    addSize: 'Noch eine Größe',
    removeSize: 'Ohne diese Größe',
    which: 'Welche',
    typed: 'Maße eingeben',
    result: 'Deine Runden dort',
    missing: 'Beide Flaschen brauchen Durchmesser und Höhe.',
    open: 'Einen Plan daraus machen',
    copy: 'Als Text kopieren',
    from: 'Aus deinen Runden:',
    change: 'Ändern',
    without: 'Ohne sie planen',
  },
  sizes: {
    title: 'Alle Größen',
    order: (names) => `Größen: ${names}. Eine Zahl gilt für alle.`,
    sizes: (name, across, high) => `${name}: ${across} breit, ${high} hoch`,
    start: (stitches) => `1. Rd: mit ${stitches} M beginnen.`,
    adds: (round, adds, stitches) => `${round}. Rd: ${adds} Zunahmen, gleichmäßig verteilt. (${stitches} M)`,
    plain: (round, stitches) => `${round}. Rd: ohne Zunahmen. (${stitches} M)`,
    wall: (rounds) => `Wand: ${rounds} Rd.`,
    mesh: (cells, chains, rounds) => `Netz: ${cells} Bögen aus ${chains} Lm, ${rounds} Rd.`,
    changes: 'In manchen Größen ändern sich die Bögen weiter oben: Das sagt die Anleitung dieser Größe.',
    band: (stitches, rounds) => `Rand: ${stitches} M, ${rounds} Rd.`,
    strap: (length) => `Kordel: ${length}.`,
    yarn: (metres) => `Garn: etwa ${metres} m.`,
  },
};
