import type { problems as english } from '../en/problems.ts';

export const problems: typeof english = {
  'unreadable-photo':
    'Diese Datei ließ sich nicht als Foto lesen. Nimm ein JPEG, PNG oder WebP oder fotografiere noch einmal.',
  'photo-too-large': 'Dieses Foto hat mehr als 130 Millionen Pixel: speichere es kleiner und versuch es noch einmal.',
  'no-card':
    'Keine Bankkarte gefunden. Lege eine flach neben das Gefäß, ganz im Bild, und versuch es noch einmal, oder setze die Ecken von Hand.',
  'card-cut-off': 'Eine Ecke der Karte ist abgeschnitten: geh etwas zurück, bis die ganze Karte im Bild ist.',
  'card-too-small': 'Die Karte ist im Bild zu klein: geh näher heran oder nimm das Foto in voller Größe.',
  'card-too-oblique': 'Die Karte ist zu flach zu sehen: halte die Kamera höher.',
  blurred: 'Das Bild ist unscharf: Handy ruhig halten, auf die Karte tippen, noch einmal aufnehmen.',
  'too-dark': 'Das Bild ist zu dunkel: geh ans Fenster oder mach Licht an.',
  'glare-on-card-edge': 'Ein Lichtfleck verdeckt eine Kartenkante: drehe die Karte oder das Licht ein wenig.',
  'no-container': 'Kein Gefäß gefunden. Tippe es im Bild an oder stelle es frei hin.',
  'container-cut-off': 'Das Gefäß ragt aus dem Bild: geh zurück, bis alles zu sehen ist.',
  'not-round': 'Das sieht nicht nach einem runden Gefäß aus: nur runde lassen sich aus einem Foto messen.',
  'too-flat':
    'Das sieht flach aus: messen lässt sich nur, was etwa 2 cm hoch steht. Liegt der Umriss auf dem Gefäß und nicht auf einem Teller oder Schatten?',
  'base-hidden': 'Der Boden ist verdeckt: rücke die Karte zur Seite, bis die untere Kante zu sehen ist.',
  'two-containers': 'Es ist mehr als ein Gefäß im Bild: tippe auf das, welches gemessen werden soll.',
  'which-arrangement':
    'Es ist nicht klar, wie die Karte liegt: sag, ob sie auf dem Tisch liegt, angelehnt ist oder davor gehalten wird.',
  'not-recognised':
    'Der Teil, der Gefäße erkennt, konnte nicht geladen werden: setze den Umriss von Hand oder lade die Seite neu.',
  'too-uncertain':
    'Was zu sehen ist, lässt die Maße um ein Drittel oder mehr offen: prüfe Umriss und Kartenecken von Hand oder fotografiere noch einmal, näher und bei besserem Licht.',
  'fit-failed': 'Der Umriss passt zu keinem runden Gefäß: prüfe Kartenecken und Umriss von Hand.',
  'no-round-reference':
    'Münze oder Scheibe nicht gefunden. Lege sie flach auf einen andersfarbigen Untergrund, ganz im Bild, oder markiere ihren Rand von Hand.',
  'round-too-small': 'Münze oder Scheibe ist im Bild zu klein: geh näher heran oder schick das Foto in voller Größe.',
  'round-too-oblique': 'Münze oder Scheibe ist zu flach zu sehen: halte die Kamera höher.',
  'round-not-on-table':
    'Münze oder Scheibe kann nur auf dem Tisch liegen, auf dem das Gefäß steht oder liegt: leg sie dorthin oder nimm eine Karte.',
  'stands-or-lies':
    'Neben Münze oder Scheibe kann dies stehen oder liegen, mit anderen Maßen: sag, was stimmt, oder halte das Handy aufrecht, mehr von der Seite.',
  'no-work': 'Keine Arbeit gefunden. Lege sie flach neben die Karte auf einen andersfarbigen Tisch, oder tippe sie an.',
  'work-cut-off': 'Die Arbeit ragt aus dem Bild: geh zurück, bis alles zu sehen ist.',
  'not-a-disc':
    'Das sieht nicht nach einer flachen runden Arbeit aus: streiche sie glatt oder setze den Rand von Hand.',
  'not-a-rectangle':
    'Das sieht nicht nach einer flachen rechteckigen Arbeit aus: streiche sie glatt oder setze den Rand von Hand.',
  'typical-focal': 'Das Foto sagt nicht, mit welchem Objektiv es entstand; das ± ist etwas größer.',
  'looks-cropped': 'Das Foto sieht beschnitten aus; nimm wenn möglich das Original. Das ± ist deshalb größer.',
  'card-or-lens-unusual':
    'Karte und Objektiv passen nicht zusammen: Ist es die Karte, die du gewählt hast, liegt sie flach, und ist das Foto so, wie die Kamera es aufnahm? Verlass dich nicht auf diese Maße.',
  'card-far-away': 'Die Karte liegt weit vom Gefäß: näher daran wird es beim nächsten Mal genauer.',
  'round-far-away': 'Münze oder Scheibe liegt weit vom Gefäß: näher daran wird es beim nächsten Mal genauer.',
  'round-seen-two-ways':
    'Münze oder Scheibe sieht von zwei Seiten gleich aus, die Maße aber nicht: das ± umfasst beide. Fotografiere senkrecht von oben oder mehr von der Seite, oder nimm eine Karte.',
  'card-square-on':
    'Neige die Kamera beim nächsten Mal ein wenig: Genau von vorn sagt die Karte weniger über den Abstand.',
  'base-not-visible': 'Der Boden ist nicht zu sehen, deshalb fehlt sein Durchmesser.',
  'which-end-is-base':
    'Bei diesem liegenden Gefäß kann jedes Ende der Boden sein: tippe auf das Bodenende, sonst bleibt der Bodendurchmesser zwischen beiden offen.',
  'outline-uncertain': 'Ein Teil des Umrisses ist schwer zu sehen; vergleiche ihn mit dem Bild.',
  'arrangement-uncertain': 'Zwei Lagen der Karte passen fast gleich gut; prüfe die angezeigte.',
  'hand-bump':
    'Die Stelle, die du verschoben hast, macht das Gefäß dort breiter: Gehört sie zum runden Körper, oder ist es ein Henkel oder eine Naht?',
  'hand-against-edges':
    'Was du gesetzt hast, liegt neben einer deutlichen Kante im Foto: Vergrößere und sieh es dir noch einmal an.',
  'stands-on-something':
    'Das Gefäß steht wohl auf einer Untertasse oder einem Untersetzer, darum ist das ± größer: stell es auf den Tisch, dann wird es genauer.',
  'maybe-not-round': 'Links und rechts passen nicht gut zusammen: ist da ein Henkel, oder ist es nicht ganz rund?',
  'photos-disagree':
    'Diese Fotos sind sich über die Maße nicht einig: ist es dasselbe Gefäß, ohne dass etwas dazukam oder abgenommen wurde? Das ± ist deshalb größer.',
  'photo-left-out': 'Ein Foto passt nicht zu den anderen und blieb außen vor: prüfe darauf den Umriss und die Karte.',
  'yarn-like-table':
    'Garn und Tisch sehen ähnlich aus, deshalb ist der Rand unsicher: prüfe ihn oder nimm einen anderen Untergrund.',
  'yarn-like-shadow':
    'Das Garn sieht aus wie Schatten auf diesem Tisch, deshalb kann der Rand auf einer Seite zu weit außen liegen: prüfe ihn oder sorge für Licht von allen Seiten.',
  'work-lies-diagonally':
    'Die Arbeit liegt schräg im Bild, und es ist nicht klar, an welcher Seite die Reihen entlanglaufen: sag, ob an der längeren oder der kürzeren, oder drehe die Arbeit.',
};
