import type { planSentences as english } from '../en/plan-sentences.ts';

/** English sentence of the sizing engine, `#` for what varies, to German; `#1` is the first of what varied. */
export const planSentences: typeof english = {
  // What a measurement on the work means
  '# is # % less than expected.': '#1 ist #2 % weniger als erwartet.',
  '# is # % more than expected.': '#1 ist #2 % mehr als erwartet.',
  '# is what was expected.': '#1 ist, was zu erwarten war.',
  'Go on as written.': 'Weiter wie beschrieben.',
  'The rounds that follow have changed.': 'Die folgenden Runden haben sich geändert.',
  'Round # now ends with # stitches.': 'Runde #1 endet jetzt mit #2 Maschen.',
  'Rip back to the end of round # and work on from there.': 'Bis zum Ende von Runde #1 auftrennen und von dort weiter.',
  'The base comes out better from a new start: rip it back and work the new rounds.':
    'Der Boden gelingt besser von vorn: auftrennen und die neuen Runden häkeln.',
  'Your stitches are larger.': 'Deine Maschen sind größer.',
  'Your stitches are smaller.': 'Deine Maschen sind kleiner.',
  'At # the base is finished with this round: go on with the wall.':
    'Bei #1 ist der Boden mit dieser Runde fertig: weiter mit der Wand.',
  'At # the base is finished with this round.': 'Bei #1 ist der Boden mit dieser Runde fertig.',
  'Replan: at # the base becomes # rounds and # stitches, the last round in #.':
    'Neu rechnen: Bei #1 hat der Boden #2 Runden und #3 Maschen, die letzte Runde in #4.',
  'Replan: at # the base becomes # round and # stitches, the last round in #.':
    'Neu rechnen: Bei #1 hat der Boden #2 Runde und #3 Maschen, in #4.',
  'Rip back and replan: at # the base becomes # round and # stitches, the last round in #.':
    'Auftrennen und neu rechnen: Bei #1 hat der Boden #2 Runde und #3 Maschen, in #4.',
  'Rip back and replan: at # the base becomes # rounds and # stitches, the last round in #.':
    'Auftrennen und neu rechnen: Bei #1 hat der Boden #2 Runden und #3 Maschen, die letzte Runde in #4.',
  'Replan with what you measured: a round fewer may do.':
    'Mit deinem Maß neu rechnen: Vielleicht reicht eine Runde weniger.',
  'Replan with what you measured: a round more may do.':
    'Mit deinem Maß neu rechnen: Vielleicht braucht es eine Runde mehr.',
  'Rip back one round before the band.': 'Vor dem Bündchen eine Runde auftrennen.',
  'Work one more round before the band.': 'Vor dem Bündchen noch eine Runde häkeln.',

  // Why this base
  'All increase rounds are full ones, easy to count.': 'Alle Zunahmerunden sind vollständig, leicht zu zählen.',
  'It carries # cells, an even number, so the strap ends sit opposite each other.':
    'Er trägt #1 Bögen, eine gerade Zahl, die Kordelenden liegen sich also gegenüber.',
  'It carries # cells, an even number, so the strap ends sit opposite each other; some cells skip one stitch more or less than #.':
    'Er trägt #1 Bögen, eine gerade Zahl, die Kordelenden liegen sich also gegenüber; manche Bögen übergehen eine Masche mehr oder weniger als #2.',
  'It carries # cells, an odd number, so one side of the strap has one cell more.':
    'Er trägt #1 Bögen, eine ungerade Zahl, auf einer Seite der Kordel liegt also ein Bogen mehr.',
  'It carries # cells, an odd number, so one side of the strap has one cell more; some cells skip one stitch more or less than #.':
    'Er trägt #1 Bögen, eine ungerade Zahl, auf einer Seite der Kordel liegt also ein Bogen mehr; manche Bögen übergehen eine Masche mehr oder weniger als #2.',
  'It rises like a cone: # % fewer stitches than a flat disc needs.':
    'Er steigt wie ein Kegel: #1 % weniger Maschen, als eine flache Scheibe braucht.',
  'It cups like a saucer: # % fewer stitches than a flat disc needs.':
    'Er wölbt sich wie eine Untertasse: #1 % weniger Maschen, als eine flache Scheibe braucht.',
  'It lies flat: # % fewer stitches than a flat disc needs.':
    'Er liegt flach: #1 % weniger Maschen, als eine flache Scheibe braucht.',
  'It lies flat: # % more stitches than a flat disc needs.':
    'Er liegt flach: #1 % mehr Maschen, als eine flache Scheibe braucht.',
  'It lies flat: exactly the stitches a flat disc needs.': 'Er liegt flach: genau die Maschen einer flachen Scheibe.',
  'Its rim begins to wave: # % more stitches than a flat disc needs.':
    'Sein Rand beginnt sich zu wellen: #1 % mehr Maschen, als eine flache Scheibe braucht.',
  'Its rim ruffles: # % more stitches than a flat disc needs.':
    'Sein Rand kräuselt sich: #1 % mehr Maschen, als eine flache Scheibe braucht.',
  'The last round is in #, so that the width lands where it should.':
    'Die letzte Runde ist in #1, damit die Breite stimmt.',
  'The rim is # % longer than wanted.': 'Der Rand ist #1 % länger als gewünscht.',
  'The rim is # % shorter than wanted.': 'Der Rand ist #1 % kürzer als gewünscht.',
  'The rim is as long as the container is round.': 'Der Rand ist so lang wie der Umfang des Gefäßes.',
  'Your gauge lies flat with # increases a round, not with the customary #.':
    'Deine Maschen liegen mit #1 Zunahmen je Runde flach, nicht mit den üblichen #2.',
  'Your gauge lies flat with # increases a round, not with the customary # to #.':
    'Deine Maschen liegen mit #1 Zunahmen je Runde flach, nicht mit den üblichen #2 bis #3.',
  'Your gauge lies flat with the customary number of increases.':
    'Deine Maschen liegen mit der üblichen Zahl von Zunahmen flach.',

  // How to work
  'Worked flat in a spiral, right side facing: no joins; move a marker up to the first stitch of each round.':
    'Flach in Spiralrunden, rechte Seite vorn: ohne Kettmasche; den Maschenmarkierer in die erste Masche jeder Runde setzen.',
  'Worked flat in joined rounds, right side facing: each round ends with a slip stitch in its first stitch, and the next one starts in that same stitch.':
    'Flach in geschlossenen Runden, rechte Seite vorn: Jede Runde endet mit einer Kettmasche in ihre erste Masche, die nächste beginnt in derselben Masche.',
  'Increases are shifted from round to round so that the disc stays round.':
    'Die Zunahmen sind von Runde zu Runde versetzt, damit die Scheibe rund bleibt.',
  'Pat it flat before measuring.': 'Vor dem Messen flach streichen.',
  'Worked without increases: the fabric now turns up around the edge of the base.':
    'Ohne Zunahmen: Das Gehäkelte wendet sich jetzt um die Bodenkante nach oben.',
  'The wall follows the container: try it on after every few rounds.':
    'Die Wand folgt dem Gefäß: alle paar Runden anprobieren.',
  'Worked in a spiral without a join.': 'In Spiralrunden ohne Kettmasche.',
  'Keep a marker in the first chain space of each round.': 'Den Maschenmarkierer im ersten Bogen jeder Runde lassen.',
  'Each loop is caught in the middle of its chain.': 'Jeder Bogen wird in seiner Mitte gefasst.',
  'The first loop of a round starts from the last catch of the round before, so the start of the round moves back half a cell each time: that is right.':
    'Der erste Bogen einer Runde beginnt an der letzten Masche der Vorrunde, der Rundenanfang wandert also jedes Mal einen halben Bogen zurück: Das ist richtig.',
  'Each tall stitch stands on the tall stitch below; the last chain space of a round closes against the first tall stitch of the next.':
    'Jede hohe Masche steht auf der hohen Masche darunter; der letzte Bogen einer Runde schließt an der ersten hohen Masche der nächsten.',
  'The cells change with the container; the rounds say where.':
    'Die Bögen ändern sich mit dem Gefäß; bei den Runden steht, wo.',
  '# cells are added here: # cells from now on.': 'Hier kommen #1 Bögen dazu: von nun an #2 Bögen.',
  'From here on, chain #.': 'Von hier an #1 Luftmaschen.',
  'The first stitches are lower, so that the spiral starts without a step.':
    'Die ersten Maschen sind niedriger, damit die Spirale ohne Stufe beginnt.',
  'The last cells come down to level the end of the spiral.':
    'Die letzten Bögen werden niedriger, damit die Spirale eben endet.',
  'There is no room for a mesh round at this height: the band stands on the plain wall.':
    'In dieser Höhe ist kein Platz für eine Netzrunde: Das Bündchen steht auf der glatten Wand.',
  'Worked firmly in a spiral, the first round into the chain spaces, not into the chains themselves.':
    'Fest in Spiralrunden, die erste Runde um die Bögen, nicht in die einzelnen Luftmaschen.',
  'Worked firmly in a spiral, the first round into the stitches.':
    'Fest in Spiralrunden, die erste Runde in die Maschen.',
  'Slip the container in before fastening off.': 'Vor dem Abschneiden das Gefäß hineinstellen.',
  'Firm cord: # #, # in the first chain; then turn the work a little to the left each time and work # through the two loops that lie at its side.':
    'Feste Kordel: #2 #1, #3 in die erste; dann jedes Mal die Arbeit etwas nach links drehen und #4 durch die zwei Schlingen an der Seite häkeln.',
  'Work by length: stop when the cord measures # lying straight, whatever the count.':
    'Nach Länge häkeln: aufhören, wenn die Kordel gerade liegend #1 misst, gleich wie viele Maschen es sind.',
  'Mark stitch # and stitch # of the band (of #): they lie opposite each other.':
    'Masche #1 und Masche #2 des Bündchens (von #3) markieren: Sie liegen sich gegenüber.',
  'Mark stitch # and stitch # of the top round (of #): they lie opposite each other.':
    'Masche #1 und Masche #2 der obersten Runde (von #3) markieren: Sie liegen sich gegenüber.',
  'Lay # of the cord flat inside the band at each mark and sew it down along both edges and across the end with a double tail, through every round.':
    'An jeder Markierung #1 Kordel flach innen an das Bündchen legen und an beiden Kanten und quer über das Ende mit doppeltem Faden durch alle Runden festnähen.',
  'Lay # of the cord flat inside the top round at each mark and sew it down along both edges and across the end with a double tail, through every round.':
    'An jeder Markierung #1 Kordel flach innen an die oberste Runde legen und an beiden Kanten und quer über das Ende mit doppeltem Faden durch alle Runden festnähen.',

  // How high
  'The carrier ends at #, as you chose.': 'Der Träger endet bei #1, wie du es gewählt hast.',
  'The carrier ends near the shoulder, which starts at #.': 'Der Träger endet nahe der Schulter, die bei #1 beginnt.',
  'The carrier ends at #, so that the top stays free to hold and open.':
    'Der Träger endet bei #1, damit oben Platz zum Halten und Öffnen bleibt.',
  'The walls have no shoulder, so the carrier ends near three quarters of the height, #.':
    'Die Wand hat keine Schulter, also endet der Träger nahe drei Vierteln der Höhe, #1.',
  'The shoulder starts at #, too low to hold a full container upright, so the carrier goes on to #.':
    'Die Schulter beginnt bei #1, zu niedrig, um ein volles Gefäß aufrecht zu halten, also reicht der Träger bis #2.',
  'At # the carrier is low for a full container, which may tip out: # or more is safer.':
    'Bei #1 ist der Träger für ein volles Gefäß niedrig, es könnte herauskippen: #2 oder mehr ist sicherer.',

  // Will it fit
  'Worked as written it fits in # of # cases; otherwise it is more likely loose.':
    'Wie beschrieben gehäkelt passt er in #1 von #2 Fällen; sonst ist er eher zu weit.',
  'Worked as written it fits in # of # cases; otherwise it is more likely too tight to go over.':
    'Wie beschrieben gehäkelt passt er in #1 von #2 Fällen; sonst ist er eher zu eng zum Überziehen.',
  'Worked as written it fits in # of # cases; otherwise it is more likely too small.':
    'Wie beschrieben gehäkelt passt er in #1 von #2 Fällen; sonst ist er eher zu klein.',
  'Worked as written it fits in # of # cases; otherwise it is more likely too large.':
    'Wie beschrieben gehäkelt passt er in #1 von #2 Fällen; sonst ist er eher zu groß.',
  'Most of the doubt (# of #) is the size of the container.':
    'Der größte Teil der Unsicherheit (#1 von #2) ist die Größe des Gefäßes.',
  'Nearly all of the doubt (# of #) is the gauge, which is only a guess.':
    'Fast die ganze Unsicherheit (#1 von #2) ist die Maschenprobe, die nur geschätzt ist.',
  'Nearly all of the doubt (# of #) is the gauge.': 'Fast die ganze Unsicherheit (#1 von #2) ist die Maschenprobe.',
  'The doubt comes from the gauge and the size of the container alike.':
    'Die Unsicherheit kommt zu gleichen Teilen von Maschenprobe und Gefäß.',
  'Measuring the base after round # and replanning brings it to # of #.':
    'Den Boden nach Runde #1 messen und neu rechnen bringt es auf #2 von #3.',

  // Warnings
  'The gauge is a guess from the yarn, not yours: work a swatch in the round, or measure the base as you go and replan.':
    'Die Maschenprobe ist nach dem Garn geschätzt, nicht deine: Häkle eine Probe in Runden oder miss den Boden unterwegs und rechne neu.',
  'With these stitches the base will look: cone.': 'Mit diesen Maschen steigt der Boden wie ein Kegel.',
  'With these stitches the base will look: cupped.': 'Mit diesen Maschen wölbt sich der Boden.',
  'With these stitches the base will look: ruffle onset.': 'Mit diesen Maschen beginnt der Boden sich zu wellen.',
  'With these stitches the base will look: ruffle.': 'Mit diesen Maschen kräuselt sich der Boden.',
  'The mesh of round # hangs loose: chain # there.': 'Das Netz hängt in Runde #1 durch: dort #2 Luftmaschen.',
  'The mesh of rounds # to # hangs loose: chain # there.':
    'Das Netz hängt in den Runden #1 bis #2 durch: dort #3 Luftmaschen.',
  'The mesh of round # hangs loose: chain # there, or let the plan choose.':
    'Das Netz hängt in Runde #1 durch: dort #2 Luftmaschen, oder lass den Plan wählen.',
  'The mesh of rounds # to # hangs loose: chain # there, or let the plan choose.':
    'Das Netz hängt in den Runden #1 bis #2 durch: dort #3 Luftmaschen, oder lass den Plan wählen.',
  'The mesh of round # will not go over: chain # or more there, or let the plan choose.':
    'Das Netz geht in Runde #1 nicht darüber: dort #2 oder mehr Luftmaschen, oder lass den Plan wählen.',
  'The mesh of rounds # to # will not go over: chain # or more there, or let the plan choose.':
    'Das Netz geht in den Runden #1 bis #2 nicht darüber: dort #3 oder mehr Luftmaschen, oder lass den Plan wählen.',
  'The band has to pass the widest place and is loose where it sits: thread a drawstring through it, or end the carrier lower.':
    'Das Bündchen muss über die weiteste Stelle und sitzt dann locker: eine Kordel durchziehen oder den Träger niedriger enden lassen.',
  'The band sits low for a full container, which may tip out: make the carrier higher.':
    'Das Bündchen sitzt für ein volles Gefäß niedrig, es könnte herauskippen: den Träger höher machen.',
  'The container has to stretch the band by # % to go in, more than firm fabric gives: end the carrier lower, or work more stitches in each space.':
    'Das Gefäß müsste das Bündchen um #1 % dehnen, mehr als festes Gehäkel hergibt: den Träger niedriger enden lassen oder mehr Maschen in jeden Bogen häkeln.',

  // Cautions
  'Small children: cord loops can strangle.': 'Kleine Kinder: Kordelschlingen können würgen.',
  'Keep the carrier out of reach of children under three, and never let a child wear it at play, on a bicycle or asleep.':
    'Den Träger außer Reichweite von Kindern unter drei Jahren halten, und nie darf ein Kind ihn beim Spielen, auf dem Rad oder im Schlaf tragen.',
  'What the rules say: EN # covers cords on clothing for children up to # years and leaves out bags and purses.':
    'Was die Regeln sagen: EN #1 gilt für Kordeln an Kleidung für Kinder bis #2 Jahre und nimmt Taschen aus.',
  'EN #-# covers toys; for children under three an older edition limits loops to # mm around and free cords to # mm.':
    'EN #1-#2 gilt für Spielzeug; für Kinder unter drei begrenzt eine ältere Ausgabe Schlingen auf #3 mm Umfang und freie Kordeln auf #4 mm.',
  'In the US, # CFR # and ASTM F# cover drawstrings of children’s outerwear.':
    'In den USA gelten #1 CFR #2 und ASTM F#3 für Zugkordeln an Kinderoberbekleidung.',
  'None was written for a carrier like this: take them as a guide to the risk, and follow the rules where you live or sell.':
    'Keine ist für so einen Träger geschrieben: Nimm sie als Anhalt für die Gefahr und halte dich an die Regeln, die bei dir gelten.',
  'Before use: hang three times the mass of the full container in the carrier for ten minutes, over something soft, and look at every join.':
    'Vor Gebrauch: das Dreifache der Masse des vollen Gefäßes zehn Minuten lang in den Träger hängen, über etwas Weichem, und jede Verbindung ansehen.',
  'Look again after each wash.': 'Nach jeder Wäsche wieder nachsehen.',
  'Joins and ends give way long before the yarn does.': 'Verbindungen und Fadenenden geben lange vor dem Garn nach.',
  'Hot contents: a carrier does not insulate and may stretch when wet and warm.':
    'Heißer Inhalt: Ein Träger schützt nicht vor Hitze und kann sich nass und warm dehnen.',
  'Fresh hot drinks scald at a touch; let them cool first.':
    'Frische heiße Getränke verbrühen bei Berührung; erst abkühlen lassen.',
  'Glass: fabric does not stop glass from breaking.': 'Glas: Gehäkeltes bewahrt Glas nicht vor dem Zerbrechen.',
  'Carry it with care, and do not use a container that is chipped or cracked.':
    'Vorsichtig tragen und kein Gefäß mit Sprung oder abgeplatzter Stelle verwenden.',
  'Keep it away from flames and hot plates.': 'Von Flammen und heißen Platten fernhalten.',
};
