import type { orders as english } from '../en/orders.ts';

export const orders: typeof english = {
  title: 'Bestellungen',
  empty:
    'Noch keine Bestellungen. Schick einer Kundin die Anleitung; ihr Foto wird zur Bestellung, sobald ihr Name dabeisteht.',
  toGuide: 'Die Anleitung für Kundinnen',
  open: 'Öffnen',
  openOf: (customer) => `Öffnen: ${customer}`,
  noName: 'Ohne Namen',
  sizes: (around, height) => `${around} Umfang, ${height} hoch`,
  dueOn: (day) => `Fertig bis ${day}`,
  overdue: (day) => `War bis ${day} versprochen`,
  noDay: 'Kein Tag vereinbart',
  plan: {
    none: 'Nicht begonnen',
    begun: (rounds) => (rounds === 1 ? '1 Runde fertig' : `${rounds} Runden fertig`),
    ready: 'Geplant',
  },
  paid: 'Bezahlt',
  done: 'Übergeben',
  doneOnes: 'Früher übergeben',
  fold: 'Für eine Kundin',
  customer: 'Name der Kundin',
  customerHint: 'Mit Namen wird es eine Bestellung. Bei einem eigenen Gefäß bleibt das Feld leer.',
  due: 'Fertig am',
  price: 'Vereinbarter Preis',
  known: (customer) => `Für ${customer} gibt es schon eine Bestellung. Ist das noch ein Foto von demselben Gefäß?`,
  join: 'Dasselbe: zusammenlegen',
  waiting: (count) =>
    count === 1
      ? 'Ein weiteres Foto kam mit. Ist es dasselbe Gefäß?'
      : `${count} weitere Fotos kamen mit. Ist es dasselbe Gefäß?`,
  joinWaiting: 'Dasselbe: zusammenlegen',
  openWaiting: 'Nein, das nächste ansehen',
  copyNote: {
    screenshot:
      'Das sieht nach einem Screenshot aus. Er ist kleiner als das Foto und verrät nicht, mit welchem Objektiv es entstand; die Maße sind weniger sicher.',
    copy: 'Das ist eine Kopie: Messenger und Bildbearbeitung lassen weg, mit welchem Objektiv das Foto entstand. Die Maße sind etwas weniger sicher.',
  },
  askForPhoto: {
    screenshot:
      'Danke! Kannst du mir statt des Screenshots das Foto selbst schicken, wenn es geht als Datei? Dann kann ich richtig messen.',
    copy: 'Danke! Wenn es geht, schick mir dasselbe Foto bitte noch einmal als Datei oder Dokument: dann kann ich genauer messen.',
  },
  copyAsk: 'Text kopieren, der um das Foto selbst bittet',
  copied: 'Kopiert. Füge es in deine Nachricht ein.',
  notCopied: 'Es ließ sich nicht kopieren. Markiere den Text und kopiere ihn von Hand.',
  reply: {
    title: 'Die Antwort an sie',
    language: 'In ihrer Sprache',
    text: 'Text zum Einfügen',
    copy: 'Text kopieren',
    picture: 'Mit dem Bild schicken',
    noPicture: 'Das Bild lässt sich hier nicht machen.',
    hello: (customer) => (customer ? `Hallo ${customer},` : 'Hallo,'),
    sizes: (around, height) => `danke für das Foto. Dein Gefäß hat etwa ${around} Umfang und ist ${height} hoch.`,
    unsure: (from, to) =>
      `Das Foto lässt es zwischen ${from} und ${to} offen: legst du einmal ein Maßband um die dickste Stelle?`,
    offer: (what) => `Dafür kann ich dir das machen: ${what}.`,
    price: (price) => `Es kostet ${price}.`,
    due: (day) => `Fertig sein kann es am ${day}.`,
    ask: 'Soll ich anfangen?',
    fileName: 'flaschennetz',
  },
};
