import type { photo as english } from '../en/photo.ts';

export const photo: typeof english = {
  title: 'Zeig uns das Gefäß und eine Bankkarte',
  lead: 'Ein Foto von Flasche, Glas oder Becher neben einer Karte ergibt die Maße und einen Häkelplan für deine Maschenprobe.',
  take: 'Foto aufnehmen',
  choose: 'Foto auswählen',
  dropHere: 'Loslassen, um dieses Foto zu nehmen',
  dropHint: 'Du kannst ein Foto auch hierher ziehen oder einfügen.',
  privacy: 'Das Foto bleibt auf diesem Gerät. Nichts wird verschickt.',
  wholeGuide: 'Anleitung, auch zum Drucken',
  howTo: 'So gelingt das Foto',
  tapeInstead: 'Lieber mit dem Maßband',
  samples: 'Keine Flasche zur Hand? Nimm eine von uns',
  samplesNote:
    'Vom Computer gezeichnet für einen Nachfüllstand auf einem Hafenmarkt; alle Flaschen und Karten darauf sind erfunden.',
  sampleNames: {
    'steel-flask-standing-on-white-desk': 'Stahlflasche auf weißem Tisch',
    'jar-standing-on-linen': 'Glas auf Leinen',
    'jam-jar-standing-on-dark-desk': 'Marmeladenglas auf dunklem Tisch',
    'tumbler-standing-on-dark-desk': 'Becher auf dunklem Tisch',
    'tumbler-lying-on-planks': 'Becher liegt auf Brettern',
    'jam-jar-lying-on-linen': 'Marmeladenglas liegt auf Leinen',
    'flask-card-held-in-front': 'Isolierflasche, Karte davor gehalten',
    'can-card-leaning-on-it': 'Dose mit angelehnter Karte',
    'tin-standing-beside-a-coin': 'Dose neben einer 2-Euro-Münze',
    'small-bottle-lying-beside-a-coin': 'Fläschchen, liegend neben einer 2-Euro-Münze',
  },
  opening: 'Das Foto wird geöffnet …',
  stages: {
    start: 'Gleich geht es los …',
    card: 'Die Karte wird gesucht …',
    outline: 'Dem Umriss folgen …',
    container: 'Das Gefäß wird eingepasst …',
  },
  cancel: 'Anhalten',
  trouble: {
    'not-a-photo': 'Diese Datei ist kein lesbares Foto. JPEG, PNG, WebP, AVIF und iPhone-Fotos (HEIC) gehen.',
    damaged: 'Dieses Foto ist beschädigt oder unvollständig. Lass es noch einmal schicken oder nimm ein neues auf.',
    'too-large': 'Dieses Bild hat mehr als 130 Megapixel. Nimm es kleiner.',
    cancelled: 'Angehalten. Das Foto ist noch da.',
    'engine-not-loaded':
      'Der Messteil konnte nicht geladen werden. Prüfe einmal die Verbindung; danach geht es ohne Netz.',
    'engine-failed':
      'Das Messen brach bei diesem Foto ab. Versuch es noch einmal oder setze Karte und Umriss von Hand.',
    'photo-gone': 'Das Foto selbst wurde nicht aufbewahrt. Nimm oder wähle es noch einmal.',
  },
  tryAgain: 'Noch einmal',
  otherPhoto: 'Anderes Foto',
  sampleGone: 'Dieses Beispiel konnte nicht geholt werden. Prüfe die Verbindung.',
  cardHint: 'Jede Karte in Bankkartengröße taugt. Die Nummern darfst du abdecken, nur die Kanten zählen.',
  further: {
    title: 'Weitere Fotos davon',
    why: 'Ein zweites Foto von einer anderen Seite verkleinert das ± und deckt Fehler auf.',
    add: 'Foto hinzufügen',
    one: (number, widest, height) => `Foto ${number}: ${widest} breit, ${height} hoch`,
    remove: (number) => `Foto ${number} weglassen`,
    measuring: 'Wird gemessen …',
    joining: 'Eine Form für alle Fotos wird gesucht …',
    leftOut: (numbers: string) =>
      `Foto ${numbers} passt nicht zu den anderen und zählt nicht mit. Ist es dasselbe Gefäß?`,
    disagree: 'Diese Fotos widersprechen sich stärker, als ihr ± erlaubt. Zeigen sie dasselbe Gefäß?',
  },
};
