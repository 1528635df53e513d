import type { Text } from '../text.ts';

export const ruler: Text['ruler'] = {
  sheet: {
    title: 'Gedruckter Kartenrahmen',
    purpose: 'Nimm dieses Blatt statt einer Bankkarte, wenn du ein Gefäß oder deine Arbeit fotografierst.',
    frame: 'Lege das ganze Blatt flach hin; dieser dunkle Rahmen tritt an die Stelle der Karte.',
    line: 'Prüfstrecke: Sie soll 150 mm lang sein.',
    stepPrint: 'Drucke mit 100 %, ohne „An Seite anpassen“.',
    stepCheck: 'Miss die Prüfstrecke mit einem Lineal oder etwas bekannter Länge.',
    stepEnter: 'Gib ein, was du abliest, auch wenn es 150 mm sind: Drucker ändern den Maßstab.',
    stepLay: 'Lege das Blatt flach auf den Tisch neben das, was du misst, und fotografiere.',
  },
  title: 'Keine Karte zur Hand? Drucke einen Rahmen',
  lead: 'Das Blatt zeigt einen dunklen Rahmen in der Größe einer Bankkarte. Drucker ändern den Maßstab, deshalb muss eine Länge darauf nachgemessen werden.',
  paper: 'Papier',
  papers: { A4: 'A4', Letter: 'US Letter' },
  preview: 'Das Blatt: ein dunkler Rahmen in der Größe einer Bankkarte über einer Prüfstrecke mit Strichen.',
  print: 'Blatt drucken',
  checkTitle: 'Nach dem Drucken',
  checkLead:
    'Miss die Prüfstrecke vom ersten bis zum letzten Strich, mit Lineal, Maßband oder etwas, dessen Länge du kennst.',
  checked: 'Die Prüfstrecke ist lang',
  corrected: (width, height) => `Dein Rahmen ist also ${width} × ${height} groß.`,
  impossible: 'So stark ändert kein Drucker die Größe. Miss vom ersten bis zum letzten Strich.',
  use: 'Ab jetzt diesen Rahmen verwenden',
  inUse: (length) => `In Gebrauch: der Rahmen mit einer Prüfstrecke von ${length}. Neue Fotos werden damit gemessen.`,
  useCard: 'Wieder eine Bankkarte verwenden',
};
