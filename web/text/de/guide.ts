import type { guide as english } from '../en/guide.ts';

export const guide: typeof english = {
  title: 'So machst du ein Foto, mit dem wir deine Flasche messen können',
  lead: 'Du brauchst das Gefäß, eine Karte in Bankkartengröße und Tageslicht.',
  steps: [
    'Stelle das Gefäß mit Deckel auf einen Tisch.',
    'Lege die Karte flach davor, nah, aber ohne dass sie sich berühren. Die Seite mit den Nummern nach unten.',
    'Halte das Handy etwas höher, eine Armlänge entfernt, so dass du auf die Karte hinabschaust.',
    'Das ganze Gefäß und alle vier Ecken der Karte sind im Bild. Nicht zoomen, nicht zuschneiden.',
    'Tippe zum Scharfstellen auf die Karte, halte still und schick das Foto in voller Größe.',
  ],
  best: 'Am besten',
  good: 'Auch gut',
  ways: {
    standing: 'Gefäß steht, Karte flach davor',
    lying: 'Gefäß liegt, Karte daneben, von oben gesehen',
    front: 'Karte flach davor gehalten, Kante entlang der Flasche',
    leaning: 'Karte an das Gefäß gelehnt: nur zur Not',
  },
  alsoTitle: 'Das geht auch',
  mistakesTitle: 'Was am häufigsten schiefgeht',
  mistakes: {
    cut: 'Eine Kartenecke oder der Flaschenkopf ist nicht im Bild',
    flat: 'Die Kamera ist zu tief, die Karte nur ein schmaler Streifen',
    glare: 'Eine Lampe spiegelt sich in der Kartenkante',
    hidden: 'Die Karte verdeckt die untere Kante der Flasche',
  },
  sameColour: 'Eine weiße Karte auf weißem Papier ist schlecht zu sehen: lege etwas Dunkleres darunter.',
  privacy: 'Nur die Kanten der Karte zählen: decke die Nummern ab oder nimm eine andere Karte dieser Größe.',
  print: 'Diese Seite drucken',
  toPhoto: 'Zum Foto',
  from: (name) => `Von ${name}`,
  sendTo: (answerTo) => `Schick das Foto an ${answerTo}.`,
  sendBack: 'Schick das Foto auf demselben Weg zurück, auf dem dieses Bild kam.',
  asFile: 'Schick das Foto selbst, wenn es geht als Datei. Keinen Screenshot.',
  send: {
    title: 'An eine Kundin schicken',
    lead: 'Ein Bild mit allem, was sie wissen muss. Nichts darin führt auf eine Website.',
    language: 'In ihrer Sprache',
    name: 'Dein Name',
    answerTo: 'Wohin das Foto soll',
    answerHint:
      'Zum Beispiel deine Telefonnummer oder Adresse. Leer heißt es: auf demselben Weg, auf dem dieses Bild kam.',
    share: 'Das Bild schicken',
    save: 'Das Bild speichern',
    preview:
      'Die Anleitung, wie sie verschickt wird: wie die Flasche steht, die Karte liegt, das Handy gehalten wird und wohin das Foto geht.',
    failed: 'Dieser Browser kann das Bild nicht zeichnen. Drucke stattdessen diese Seite.',
    fileName: 'so-wird-das-foto',
    withIt:
      'So machst du das Foto, mit dem ich deine Flasche messen kann. Bitte schick mir das Foto selbst, keinen Screenshot.',
  },
};
