import type { NoteWords } from '../../plan/words/note-words.ts';

export const planNotes: NoteWords = {
  'base-joined': () =>
    'Flach in geschlossenen Runden, Vorderseite außen: nicht wenden. 3 oder mehr Anfangs-Lm ersetzen die erste M.',
  'base-spiral': () =>
    'Flach in Spiralrunden, Vorderseite außen: nicht schließen, nicht wenden. Die erste M mit einem Maschenmarkierer kennzeichnen und ihn in jeder Rd hochsetzen.',
  'base-lower-ending': ({ fromRound, stitches }, { stitch }) =>
    `Ab der ${fromRound}. Rd wird der Boden in ${stitches.map(stitch).join(' und ')} gearbeitet, damit seine Breite stimmt.`,
  'wall-net': () =>
    'Den Boden so wölben, dass die Vorderseite außen liegt. Keine Zunahmen mehr: Der Rand stellt sich auf.',
  'wall-sleeve': () =>
    'Den Boden so wölben, dass die Vorderseite außen liegt. Alle paar Rd anprobieren; die Hülle soll sich mit sanftem Zug überziehen lassen.',
  'mesh-spiral': () =>
    'In Spiralrunden, nicht schließen. Den ersten Lm-Bogen mit einem Maschenmarkierer kennzeichnen und ihn in jeder Rd hochsetzen.',
  'mesh-posts': ({ stitch: post }, { stitch }) =>
    `Jedes ${stitch(post)} in die M der Vorrunde häkeln, nie in die Lm. Den letzten Lm-Bogen einer Rd schließt die erste M der nächsten.`,
  'mesh-vs': () => 'Jedes V um den Lm-Bogen des V darunter häkeln, nie zwischen zwei V.',
  'mesh-loops': () =>
    'Jeder Bogen wird in der Mitte seiner Lm gefasst. Der erste Bogen einer Rd beginnt an der letzten M der Vorrunde, darum wandert der Anfang in jeder Rd um einen halben Bogen zurück.',
  'mesh-holes': ({ widthMm, heightMm }, { length }) =>
    `Am Gefäß werden die Öffnungen bis zu ${length(widthMm)} breit und ${length(heightMm)} hoch.`,
  'mesh-changes': () => 'Das Netz ändert sich mit dem Gefäß; wo, steht bei den Runden.',
  'band-into-spaces': () => 'Um die Lm-Bögen häkeln, nicht in die Lm, in gewohnter Fadenspannung.',
  'band-into-stitches': () => 'In gewohnter Fadenspannung häkeln.',
  'band-try-on': () => 'Vor dem Abschneiden das Gefäß hineinstellen: Es soll mit sanftem Zug hineingehen.',
  'strap-length': ({ lengthMm }, { tape }) => `${tape(lengthMm)} freie Länge unter voller Last.`,

  'cells-added': ({ added, cells }) => `${added} Lm-Bögen kommen dazu: ab jetzt ${cells}.`,
  'chains-from-here': ({ chains }) => `Ab hier ${chains} Lm.`,
  'ramp-up': () => 'Die ersten M sind niedriger, damit die Spirale ohne Stufe beginnt.',
  'ramp-down': () => 'Gegen Ende wird sie niedriger, damit die Spirale ohne Stufe endet.',
  'container-inside': () =>
    'Ab dieser Rd mit dem Gefäß darin häkeln, eng um es herum. Es bleibt darin: Um es herauszunehmen, bis hierher aufribbeln.',
  'holes-for-cord': () => 'Die Lm-Bögen sind die Löcher für die Kordel.',
  'in-colour': ({ colour }) => `In Farbe ${colour}.`,
  'mark-round': () => 'Diese Rd markieren und den Boden anprobieren.',

  'cover-chosen': ({ coverMm }, { length }) =>
    `Der Rand soll bei ${length(coverMm)} liegen, wie gewählt; ganze Rd kommen nahe daran.`,
  'cover-shoulder': ({ coverMm }, { length }) =>
    `Der Rand soll nahe der Schulter liegen, bei ${length(coverMm)}; ganze Rd kommen nahe daran.`,
  'cover-above-low-shoulder': ({ shoulderMm, coverMm }, { length }) =>
    `Die Schulter bei ${length(shoulderMm)} ist zu niedrig, um ein volles Gefäß aufrecht zu halten; der Rand liegt darum bei ${length(coverMm)}.`,
  'cover-top-free': ({ coverMm }, { length }) =>
    `Der Rand liegt bei ${length(coverMm)}, damit oben Platz zum Halten und Öffnen bleibt.`,
  'cover-straight': ({ coverMm }, { length }) =>
    `Der Rand soll bei etwa drei Vierteln der Höhe liegen, ${length(coverMm)}; ganze Rd kommen nahe daran.`,

  'gauge-guessed': () =>
    'Die Maschenprobe ist nach dem Garn geschätzt. Miss den Boden unterwegs, dann richtet sich der Plan nach deiner Hand.',
  'hook-unlike-yarn': ({ hookMm, usualMm: [from, to] }, { number }) =>
    `Nadel ${number(hookMm, 2)} mm für dieses Garn? Üblich sind ${number(from, 2)} bis ${number(to, 2)} mm. Prüfe Nadel und Garn.`,
  'yarn-unlike-gauge': ({ metresPer100g, usual: [from, to] }, { number }) =>
    `${number(metresPer100g)} m auf 100 g passen nicht zu Maschen dieser Breite: Üblich sind ${number(from)} bis ${number(to)} m. Prüfe die Banderole.`,
  'cover-low': ({ coverMm, leastMm }, { length }) =>
    `${length(coverMm)} sind für ein volles Gefäß niedrig, es könnte herauskippen: ${length(leastMm)} oder mehr sind sicherer.`,
  'base-shape': ({ shape }) =>
    ({
      cone: 'Mit diesen Maschen steigt der Boden wie ein Kegel.',
      cupped: 'Mit diesen Maschen wölbt sich der Boden ein wenig; das Gefäß drückt ihn flach.',
      'ruffle onset': 'Mit diesen Maschen kann sich der Bodenrand wellen.',
      ruffle: 'Mit diesen Maschen kräuselt sich der Boden.',
    })[shape],
  'mesh-too-tight': ({ fromRound, toRound, chains }) =>
    `In der ${rounds(fromRound, toRound)} geht das Netz nicht darüber: dort ${chains} Lm, oder lass den Plan wählen.`,
  'mesh-loose': ({ fromRound, toRound, chains }) =>
    `In der ${rounds(fromRound, toRound)} hängt das Netz durch: dort ${chains} Lm, oder lass den Plan wählen.`,
  'mesh-loose-at-narrow': ({ fromRound, toRound }) =>
    `In der ${rounds(fromRound, toRound)} steht das Netz ab: Es muss über eine weitere Stelle darunter. Das ist richtig so; eine dort durchgezogene Kordel schließt es.`,
  'holes-larger': ({ mostMm, widthMm, heightMm }, { length }) =>
    `Öffnungen von ${length(mostMm)} gehen mit diesen Maschen nicht: Die kleinsten sind ${length(widthMm)} breit und ${length(heightMm)} hoch. Nimm feineres Garn.`,
  'no-mesh': () => 'Für eine Netzrunde ist bei dieser Höhe kein Platz: Der Rand steht auf der glatten Wand.',
  'mostly-sleeve': ({ wallRounds, meshRounds }) =>
    `Das wird eher eine Hülle: ${wallRounds} glatte Rd und ${meshRounds} Rd Netz.`,
  'wall-loose': ({ heightMm, stitches, hugging }, { length }) =>
    `Bei ${length(heightMm)} steht sie vom Gefäß ab: ${stitches} M, um über die weitere Stelle darunter zu kommen, wo ${hugging} anliegen würden. Damit sie anliegt, in der Auswahl einstellen, dass oben um das Gefäß gehäkelt wird.`,
  'band-too-tight': ({ stitchesMore }) =>
    `Der Rand ist zu eng für die weiteste Stelle: in seiner ersten Rd ${stitchesMore} M mehr häkeln.`,
  'band-loose': ({ stitches, hugging }) =>
    `Der Rand muss über die weiteste Stelle und sitzt dann locker: ${stitches} M, wo ${hugging} anliegen würden. Eine Kordel durchziehen oder in der Auswahl einstellen, dass oben um das Gefäß gehäkelt wird.`,
  'band-low': () => 'Der Rand sitzt für ein volles Gefäß niedrig, es könnte herauskippen: höher arbeiten.',
  'load-heavy': ({ massG }, { mass }) =>
    `Voll wiegt es bis zu ${mass(massG)}: zu viel für eine einzelne Kordel. Eine doppelte Kordel nehmen, die unter dem Boden durchläuft.`,
  'load-too-heavy': ({ massG }, { mass }) =>
    `Voll wiegt es bis zu ${mass(massG)}: zu schwer für eine gehäkelte Kordel. Mit einer Hand unter dem Boden tragen.`,
  'strand-weak': ({ times }, { number }) =>
    `Ein geknoteter Faden dieses Garns würde schon bei etwa dem ${number(times, 1)}-Fachen des vollen Gewichts reißen: zu knapp. Stärkeres Garn oder mehr Fäden nehmen.`,

  'caution-children': () =>
    'Kleine Kinder: Kordelschlingen können würgen. Außer Reichweite von Kindern unter drei Jahren halten; nie darf ein Kind es beim Spielen, auf dem Rad oder im Schlaf tragen.',
  'caution-rules': () =>
    'Regeln: EN 14682 gilt für Kordeln an Kleidung für Kinder bis 14 Jahre und nimmt Taschen aus. EN 71-1 gilt für Spielzeug; für Kinder unter drei begrenzt eine ältere Ausgabe Schlingen auf 380 mm Umfang und freie Kordeln auf 220 mm. In den USA gelten 16 CFR 1120 und ASTM F1816 für Zugkordeln an Kinderoberbekleidung. Keine ist für so etwas geschrieben: Nimm sie als Anhalt und halte dich an die Regeln, die bei dir gelten.',
  'caution-test': ({ testMassG }, { mass }) =>
    `Vor Gebrauch: ${mass(testMassG)} (das Dreifache des vollen Gewichts) zehn Minuten lang über etwas Weichem hineinhängen und jede Naht ansehen. Nach jeder Wäsche wieder.`,
  'caution-hot': () =>
    'Heißer Inhalt: Gehäkeltes schützt nicht vor Hitze und dehnt sich nass und warm. Frische heiße Getränke verbrühen bei Berührung; erst abkühlen lassen.',
  'caution-glass': () =>
    'Glas: Gehäkeltes bewahrt Glas nicht vor dem Zerbrechen. Kein Gefäß mit Sprung oder abgeplatzter Stelle verwenden.',
  'caution-flames': () => 'Von Flammen und heißen Platten fernhalten.',

  'rim-exact': () => 'Der Rand misst, was das Gefäß rundum misst.',
  'rim-off': ({ byMm }, { length }) =>
    `Sein Rand ist rundum ${length(Math.abs(byMm))} ${byMm > 0 ? 'länger' : 'kürzer'} als er sein soll.`,
  lies: ({ shape }) =>
    ({
      cone: 'Er steigt wie ein Kegel.',
      cupped: 'Er wölbt sich wie eine Untertasse.',
      flat: 'Er liegt flach.',
      'ruffle onset': 'Sein Rand kann sich wellen.',
      ruffle: 'Sein Rand kräuselt sich.',
    })[shape],
  cells: ({ cells, skip, uneven }) =>
    `Er trägt ${cells} Lm-Bögen${uneven ? `; manche übergehen eine M mehr oder weniger als ${skip}` : ''}.`,
  'full-rounds': () => 'Alle Zunahmerunden sind volle.',
  'own-increases': ({ flat, customary }, { number }) =>
    `Deine Maschen liegen mit ${number(flat)} Zunahmen je Rd flach, nicht mit den üblichen ${customary}.`,
  'ends-in': ({ stitch: last }, { stitch }) => `Die letzte Rd ist in ${stitch(last)}.`,

  'finished-here': ({ readingMm, carrier }, { length }) =>
    `Bei ${length(readingMm)} ist der Boden mit dieser Rd fertig${carrier === 'mat' ? '' : ': weiter mit der Wand'}.`,
  'base-becomes': ({ ripBack, readingMm, rounds: count, stitches, lastStitch }, { length, stitch }) =>
    `${ripBack ? 'Aufribbeln: Bei' : 'Bei'} ${length(readingMm)} wird der Boden mit ${count} ${count === 1 ? 'Runde' : 'Runden'} und ${stitches} M gearbeitet, die letzte in ${stitch(lastStitch)}.`,
  'maybe-a-round-more': () => 'Vielleicht braucht es eine Runde mehr: Das zeigt das nächste Prüfen.',
  'maybe-a-round-fewer': () => 'Vielleicht reicht eine Runde weniger: Das zeigt das nächste Prüfen.',
  'one-round-more': ({ again, last }) =>
    `${again === null ? 'Noch eine Rd ohne Zu- und Abnahmen' : `Die ${again}. Rd noch einmal`} häkeln${last === null ? '' : `, dann die ${last}. Rd`}.`,
  'last-round-now': ({ ripTo, last }) =>
    `Bis zur ${ripTo}. Rd aufribbeln${last === null ? ' und dort enden' : `, dann die ${last}. Rd häkeln`}.`,
};

function rounds(from: number, to: number): string {
  return from === to ? `${from}. Rd` : `${from}. bis ${to}. Rd`;
}
