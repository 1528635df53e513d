import type { shell as english } from '../en/shell.ts';

export const shell: typeof english = {
  appName: 'Roundwise',
  tagline: 'Vom Foto zur Hülle, die passt',
  skip: 'Zum Inhalt springen',
  places: { stall: 'Am Stand', kept: 'Aufbewahrt', guide: 'So gelingt das Foto', settings: 'Einstellungen' },
  menu: 'Menü',
  placesLabel: 'Orte',
  stepsLabel: 'Schritte',
  steps: { photo: 'Foto', sizes: 'Maße', plan: 'Plan' },
  next: { plan: 'Der Plan dazu' },
  back: 'Zurück',
  loading: 'Einen Moment …',
  newJob: 'Noch eine Flasche, noch ein Glas',
  undo: 'Rückgängig',
  close: 'Schließen',
  crashed: 'Auf dieser Seite ist etwas schiefgegangen. Was du aufbewahrt hast, ist sicher.',
  crashedWayOut: 'Seite neu beginnen',
  update: 'Eine neuere Fassung von Roundwise ist da. Sie gilt ab dem nächsten Öffnen, nie mitten in einer Arbeit.',
  updateOtherTabs:
    'Schließe erst die anderen Tabs von Roundwise, in einem könnte noch eine Arbeit offen sein. Dann nimm die neue Fassung.',
  updateNow: 'Jetzt verwenden',
  offlineReady: 'Roundwise läuft jetzt auch ohne Netz.',
  licences: {
    title: 'Enthaltene Software und ihre Lizenzen',
    lead: 'Roundwise ist freie Software unter der Apache-Lizenz 2.0. Es steht auf den Paketen unten, so wie ihre Urheber sie veröffentlicht haben, bis auf drei Änderungen: OpenCVs WebAssembly liegt in einer eigenen Datei, Teile von ExifReader, die nie gebraucht werden, fehlen, und die beiden Schriften enthalten nur die Zeichen und Strichstärken, die wir brauchen. Ihre Lizenzen stehen auf Englisch da, wie ihre Urheber sie geschrieben haben.',
    network:
      'Die Gewichte des Umriss-Netzes sind unsere eigenen, an berechneten Bildern gelernt, und stehen unter derselben Lizenz.',
    heic: 'Fotos im HEIC-Format öffnet libheif (LGPL 3.0). Es ist eine eigene Datei, wird nur für solche Fotos geladen und darf durch eine andere Fassung ersetzt werden; wo seine Quellen liegen, steht beim Paket unten.',
    failed: 'Die Liste ließ sich nicht laden. Versuche es noch einmal, wenn ein Netz da ist.',
  },
  settings: {
    title: 'Einstellungen',
    language: 'Sprache',
    languages: { en: 'English', de: 'Deutsch' },
    terms: 'Namen der Maschen',
    termSets: { us: 'US-englisch', uk: 'britisch', de: 'deutsch' },
    units: 'Längen',
    unitNames: { cm: 'cm und mm', in: 'Zoll' },
    theme: 'Hell oder dunkel',
    themes: { auto: 'Wie das Gerät', light: 'Hell', dark: 'Dunkel' },
    photos: 'Fotos',
    keepOriginal: 'Das Originalfoto beim Gefäß aufbewahren',
    keepOriginalHint:
      'Sonst bleibt nur ein kleines Bild: die Karte abgedeckt, kein Ort, keine Zeit. Solange du an einem Foto arbeitest, liegt es versiegelt bereit, falls du neu lädst; ist dieser Tab zu, kann es niemand mehr öffnen.',
  },
};
