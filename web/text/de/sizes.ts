import type { sizes as english } from '../en/sizes.ts';

export const sizes: typeof english = {
  title: 'Die Maße',
  allTitle: 'Alle Maße, gezeichnet',
  widest: 'Durchmesser',
  base: 'Am Boden',
  height: 'Höhe',
  around: 'Umfang, weiteste Stelle',
  capacity: 'Fasst höchstens',
  capacityHint: 'Das Volumen außen herum. Ein Teil davon ist Wand.',
  baseHidden:
    'Der Boden ist auf dem Foto nicht zu sehen, seine Breite ist geschätzt. Am meisten hilft ein Maßband um den Boden.',
  drawing: (widest: string, base: string, height: string) =>
    `Seitenansicht, maßstäblich. Weiteste Stelle ${widest}, Boden ${base}, Höhe ${height}.`,
  meaningTitle: 'Was das ± bedeutet',
  meaning: 'In 95 von 100 Fällen liegt das wahre Maß innerhalb des ±.',
  aroundInStitches: (spread: string, stitches: string, width: string) =>
    `Im Durchmesser macht ± ${spread} in einer Runde ${stitches} aus (deine Masche: ${width} breit).`,
  heightInRounds: (spread: string, rounds: string) => `In der Höhe macht ± ${spread} ${rounds} aus.`,
  sizeDecides: 'Leg ein Maßband herum: Ein besseres Maß hilft hier am meisten.',
  stitches: {
    none: 'weniger als eine Viertelmasche',
    half: 'etwa eine halbe Masche',
    some: (count: string) => (count === '1' ? 'etwa eine Masche' : `etwa ${count} Maschen`),
  },
  rounds: {
    none: 'weniger als eine Viertelrunde',
    half: 'etwa eine halbe Runde',
    some: (count: string) => (count === '1' ? 'etwa eine Runde' : `etwa ${count} Runden`),
  },
  tapeTitle: 'Mit dem Maßband prüfen',
  tapeLead: 'Nicht nötig, aber es hilft. Eine Zahl genügt.',
  tapeAround: 'Umfang an der weitesten Stelle',
  tapeBase: 'Umfang am Boden',
  tapeHeight: 'Höhe',
  tapeSd: (around: string, height: string) =>
    `Ein von Hand abgelesenes Maßband zählt mit ± ${around} im Umfang und ± ${height} in der Höhe.`,
  checkNames: { widest: 'Weiteste Stelle', base: 'Boden', height: 'Höhe' },
  photoSays: 'Foto',
  tapeSays: 'Maßband',
  togetherSays: 'Zusammen',
  verdicts: {
    agree: 'Beide stimmen überein.',
    apart: 'Beide liegen etwas weiter auseinander, als sie sollten; das ± ist deshalb größer.',
    disagree:
      'Beide stimmen nicht überein. Lies das Maßband noch einmal ab und sieh dir Kartenecken und Umriss im Foto an.',
  },
  apart: {
    says: (size: string, tape: string, photo: string) =>
      `${size}: Das Maßband sagt ${tape}, das Foto ${photo}. Eins davon stimmt nicht: Lies das Maßband noch einmal ab oder lass es weg.`,
    readAgain: 'Zum Maßband',
    leaveOut: 'Weglassen',
  },
  entry: {
    title: 'Mit dem Maßband',
    lead: 'Leg ein Maßband um das Gefäß oder miss quer darüber.',
    how: 'Gemessen ist der',
    around: 'Umfang',
    across: 'Durchmesser',
    widest: 'Weiteste Stelle',
    base: 'Boden, falls er schmaler ist',
    height: 'Höhe mit Deckel',
    use: 'Diese Maße nehmen',
    missing: 'Gib die weiteste Stelle und die Höhe an.',
  },
};
