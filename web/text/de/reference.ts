import type { Text } from '../text.ts';

export const reference: Text['reference'] = {
  own: 'Ein anderes Rechteck',
  ownSize: (size) => `Rechteck ${size}`,
  printed: (length) => `Gedruckter Rahmen, Prüfstrecke ${length}`,
  long: 'Lange Seite',
  short: 'Kurze Seite',
  thickness: 'Dicke',
  thicknessHint: 'Höhe seiner Oberseite über dem Tisch',
  tolerance: (percent) => `Seine eigene Größe ist auf ± ${percent} bekannt; das steckt im ± aller Maße.`,
  coarse: 'Eine Bankkarte oder ein gedruckter Rahmen ist genauer.',
  toRuler: 'Keine Karte zur Hand? Rahmen drucken',
};
