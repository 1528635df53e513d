import type { keep as english } from '../en/keep.ts';

export const keep: typeof english = {
  title: 'Auf diesem Gerät aufbewahrt',
  search: 'Nach Namen suchen',
  nothing: 'Noch steht nichts im Regal. Was du misst, wird hier aufbewahrt.',
  firstOne: 'Das erste messen',
  nothingFound: 'Nichts mit diesem Namen.',
  kinds: { container: 'Gefäße', gauge: 'Maschenproben', plan: 'Pläne', carrier: 'Fertige Hüllen und Netze' },
  kindOf: {
    container: 'Gefäß',
    gauge: 'Maschenprobe',
    plan: 'Plan',
    carrier: 'Fertiges Stück',
    picture: 'Bild von',
  },
  open: 'Öffnen',
  remove: 'Löschen',
  removeAsk: (label) => `„${label}“ löschen?`,
  removeYes: 'Löschen',
  removeNo: 'Behalten',
  removed: (label) => `„${label}“ ist gelöscht.`,
  foldContainer: 'Benennen',
  foldPlan: 'Plan benennen',
  rename: 'Umbenennen',
  keptAs: (name) => `Auf diesem Gerät aufbewahrt als „${name}“.`,
  labelField: 'Name',
  labelHint: 'Damit du es wiederfindest: zum Beispiel, wem die Flasche gehört',
  pictureLeftOut:
    'Das Bild wird nicht aufbewahrt: Wo darauf die Karte liegt, ist nicht sicher, also ließ sie sich nicht abdecken. Setze die Ecken der Karte, dann wird es aufbewahrt.',
  bothKept: (name) =>
    `Ein anderer Tab hatte dies inzwischen geändert. Beides ist aufbewahrt: Was du hier siehst, geht daneben weiter als „${name}“.`,
  longUnnamed: (count) =>
    count === 1
      ? 'Ein Eintrag hat keinen Namen und wurde 30 Tage nicht angerührt.'
      : `${count} Einträge haben keinen Namen und wurden 30 Tage nicht angerührt.`,
  clearUnnamed: 'Namenloses wegräumen',
  cleared: (count) => (count === 1 ? 'Ein Eintrag ist weggeräumt.' : `${count} Einträge sind weggeräumt.`),
  exportAll: 'Alles in eine Datei sichern',
  exportHint:
    'Eine Datei mit allen Gefäßen, Maschenproben, Plänen und fertigen Stücken. Karten sind auf den Bildern abgedeckt.',
  importFile: 'Datei hereinholen',
  imported: (count) => (count === 1 ? 'Ein Eintrag hereingeholt.' : `${count} Einträge hereingeholt.`),
  olderLeft: (count) =>
    count === 1 ? 'Einer blieb weg: deiner ist neuer.' : `${count} blieben weg: deine sind neuer.`,
  replaced: (count) =>
    count === 1 ? 'Einer davon ersetzte einen älteren von dir.' : `${count} davon ersetzten ältere von dir.`,
  importUndone: 'Alles ist wieder wie vor der Datei.',
  leftOut: (count) =>
    count === 1
      ? 'Ein Eintrag der Datei ist beschädigt und blieb weg:'
      : `${count} Einträge der Datei sind beschädigt und blieben weg:`,
  leftOutOne: (kind, label) => `${kind} „${label}“`,
  leftOutMore: (count) => `und ${count} weitere`,
  wrongAt: (path) => `„${path}“ fehlt oder stimmt nicht`,
  damaged: (count) =>
    count === 1
      ? 'Ein Eintrag ist beschädigt und lässt sich nicht zeigen. Er bleibt, wie er ist.'
      : `${count} Einträge sind beschädigt und lassen sich nicht zeigen. Sie bleiben, wie sie sind.`,
  importProblems: {
    'not-json': 'Das ist keine Roundwise-Datei: sie lässt sich nicht als JSON lesen.',
    'not-ours': 'Das ist keine Roundwise-Datei.',
    newer: 'Diese Datei stammt aus einem neueren Roundwise. Lade die Seite neu und hole sie dann herein.',
    invalid: (path) => `Diese Datei ist beschädigt: „${path}“ fehlt oder stimmt nicht. Nichts wurde geändert.`,
  },
  lasting: 'Der Browser hat versprochen, nichts davon zu löschen, wenn der Platz knapp wird.',
  notLasting: 'Der Browser darf dies löschen, wenn der Platz knapp wird. Sichere ab und zu alles in eine Datei.',
  trouble: {
    blocked:
      'Dieser Browser bewahrt für diese Seite nichts auf (privates Fenster?). Du kannst arbeiten, sichere aber deinen Plan, bevor du gehst.',
    full: 'Das Gerät ist voll: die letzte Änderung wurde nicht aufbewahrt. Lösche etwas oder sichere alles in eine Datei.',
    'newer-version':
      'Das Aufbewahrte wurde geschlossen, vielleicht von einem neueren Roundwise in einem anderen Tab. Lade diese Seite neu.',
    broken: 'Die letzte Änderung ließ sich nicht aufbewahren. Sichere alles in eine Datei und lade die Seite neu.',
    emptied:
      'Der Browser fand seinen Speicher beschädigt und hat ihn geleert: nichts Aufbewahrtes ist mehr da. Hole die Datei herein, die du zuletzt gesichert hast.',
    'job-damaged':
      'Deine angefangene Arbeit ist beschädigt und ließ sich nicht wieder öffnen. Was du aufbewahrt hast, ist noch da.',
  },
};
