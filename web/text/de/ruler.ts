import type { ruler as english } from '../en/ruler.ts';

export const ruler: Readonly<Record<keyof typeof english, string>> = {
  title: 'Gedruckter Kartenrahmen',
  purpose: 'Nimm dieses Blatt statt einer Bankkarte, wenn du ein Gefäß oder deine Arbeit fotografierst.',
  frame: 'Lege das ganze Blatt flach hin; dieser dunkle Rahmen tritt an die Stelle der Karte.',
  line: 'Prüfstrecke: Sie soll 150 mm lang sein.',
  stepPrint: 'Drucke mit 100 %, ohne „An Seite anpassen“.',
  stepCheck: 'Miss die Prüfstrecke mit einem Lineal oder etwas bekannter Länge.',
  stepEnter: 'Gib ein, was du abliest, auch wenn es 150 mm sind: Drucker ändern den Maßstab.',
  stepLay: 'Lege das Blatt flach auf den Tisch neben das, was du misst, und fotografiere.',
};
