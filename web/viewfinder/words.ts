import type { Hint } from '../../vision/viewfinder/hint.ts';
import type { Language } from '../app/settings.ts';

interface Words {
  readonly title: string;
  readonly starting: string;
  readonly looking: string;
  readonly good: string;
  readonly hints: Readonly<Record<Hint, string>>;
  readonly widest: string;
  readonly height: string;
  readonly take: string;
  readonly byItself: string;
  readonly light: string;
  readonly denied: string;
  readonly none: string;
  readonly otherWay: string;
  readonly privacy: string;
}

/** They come with the screen, not with the page. */
export const WORDS: Readonly<Record<Language, Words>> = {
  en: {
    title: 'Aim at it',
    starting: 'Opening the camera …',
    looking: 'Looking for card and container …',
    good: 'Good. Hold it there.',
    hints: {
      'show-card': 'Lay a bank card beside it, all of it in the picture.',
      'card-further-in': 'Bring the whole card into the picture.',
      'card-nearer': 'Lay the card closer to it.',
      'card-aside': 'Move the card aside: the bottom edge is hidden.',
      'turn-card': 'Turn the card a little: it mirrors a light.',
      closer: 'Go closer.',
      back: 'Go back a little: it runs out of the picture.',
      higher: 'Hold the phone higher.',
      tilt: 'Look at the card more from the side.',
      light: 'More light, please.',
      still: 'Hold still.',
      'show-container': 'Bring the bottle or jar into the picture.',
      'tap-one': 'There are several: tap the one you mean.',
      'off-saucer': 'Take it off the saucer or coaster.',
      'calmer-ground': 'Its edge is hard to see: another side, or a plainer ground behind it.',
      tape: 'Not round, or flat: a tape does better here.',
    },
    widest: 'Widest',
    height: 'Height',
    take: 'Take it now',
    byItself: 'Takes itself when it is good',
    light: 'Light',
    denied: 'The camera is not allowed here. You can allow it in the browser’s settings, or go on without.',
    none: 'There is no camera that this page can look through.',
    otherWay: 'Take a photo another way',
    privacy: 'Nothing of this is kept but the picture you take.',
  },
  de: {
    title: 'Anvisieren',
    starting: 'Die Kamera geht an …',
    looking: 'Karte und Gefäß werden gesucht …',
    good: 'Gut. So halten.',
    hints: {
      'show-card': 'Leg eine Bankkarte daneben, ganz im Bild.',
      'card-further-in': 'Hol die ganze Karte ins Bild.',
      'card-nearer': 'Leg die Karte näher ans Gefäß.',
      'card-aside': 'Rück die Karte zur Seite: die Unterkante ist verdeckt.',
      'turn-card': 'Dreh die Karte ein wenig: sie spiegelt ein Licht.',
      closer: 'Geh näher heran.',
      back: 'Geh ein Stück zurück: es ragt aus dem Bild.',
      higher: 'Halt das Telefon höher.',
      tilt: 'Schau mehr von der Seite auf die Karte.',
      light: 'Bitte mehr Licht.',
      still: 'Halt still.',
      'show-container': 'Hol die Flasche oder das Glas ins Bild.',
      'tap-one': 'Da stehen mehrere: tipp auf das, was du meinst.',
      'off-saucer': 'Nimm es von der Untertasse oder dem Untersetzer.',
      'calmer-ground': 'Der Rand ist schlecht zu sehen: eine andere Seite oder ein ruhigerer Grund dahinter.',
      tape: 'Nicht rund oder flach: hier hilft ein Maßband mehr.',
    },
    widest: 'Breiteste Stelle',
    height: 'Höhe',
    take: 'Jetzt aufnehmen',
    byItself: 'Löst von selbst aus, wenn es gut ist',
    light: 'Licht',
    denied: 'Die Kamera ist hier nicht erlaubt. Du kannst sie im Browser erlauben oder ohne sie weitermachen.',
    none: 'Es gibt keine Kamera, durch die diese Seite schauen kann.',
    otherWay: 'Foto auf anderem Weg',
    privacy: 'Nichts davon bleibt außer dem Bild, das du aufnimmst.',
  },
};
