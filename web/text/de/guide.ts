import type { guide as english } from '../en/guide.ts';

export const guide: typeof english = {
  title: 'So wird ein Foto, aus dem wir deine Flasche messen können',
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
  mistakesTitle: 'Was am häufigsten schiefgeht',
  mistakes: {
    cut: 'Eine Kartenecke oder der Flaschenkopf ist nicht im Bild',
    flat: 'Die Kamera ist zu tief, die Karte nur ein schmaler Streifen',
    glare: 'Eine Lampe blendet auf der Kartenkante',
    hidden: 'Die Karte verdeckt die untere Kante der Flasche',
  },
  sameColour: 'Eine weiße Karte auf weißem Papier ist schlecht zu sehen: lege etwas Dunkleres darunter.',
  privacy: 'Nur die Kanten der Karte zählen: decke die Nummern ab oder nimm eine andere Karte dieser Größe.',
  print: 'Diese Seite drucken',
  share: 'Diese Seite schicken',
  sharedText: 'So wird ein Foto, aus dem deine Flasche gemessen werden kann',
  toPhoto: 'Zum Foto',
};
