export const keep = {
  title: 'Kept on this device',
  search: 'Search by name',
  nothing: 'Nothing on the shelf yet. What you measure is kept here.',
  firstOne: 'Measure the first one',
  nothingFound: 'Nothing with that name.',
  kinds: { container: 'Containers', gauge: 'Gauges', plan: 'Plans', carrier: 'Finished carriers' },
  kindOf: {
    container: 'Container',
    gauge: 'Gauge',
    plan: 'Plan',
    carrier: 'Finished carrier',
    picture: 'Picture of',
  },
  open: 'Open',
  remove: 'Delete',
  removeAsk: (label: string) => `Delete “${label}”?`,
  removeYes: 'Delete it',
  removeNo: 'Keep it',
  removed: (label: string) => `“${label}” is deleted.`,
  foldContainer: 'Name it',
  foldPlan: 'Name this plan',
  rename: 'Rename',
  keptAs: (name: string) => `Kept on this device as “${name}”.`,
  labelField: 'Name',
  labelHint: 'So that you find it again: whose bottle it is, for example',
  pictureLeftOut:
    'Its picture is not kept: where the card is in it is not sure, so it could not be covered. Place the card’s corners and it is.',
  bothKept: (name: string) =>
    `Another tab had changed this meanwhile. Both are kept: what you see here goes on beside it as “${name}”.`,
  longUnnamed: (count: number) =>
    count === 1
      ? 'One entry has no name and was not touched for 30 days.'
      : `${count} entries have no name and were not touched for 30 days.`,
  clearUnnamed: 'Clear what has no name',
  cleared: (count: number) => (count === 1 ? 'One entry is cleared.' : `${count} entries are cleared.`),
  exportAll: 'Save everything to a file',
  exportHint: 'One file with all containers, gauges, plans and finished carriers. Cards are covered in its pictures.',
  importFile: 'Bring in a file',
  imported: (count: number) => (count === 1 ? 'One entry brought in.' : `${count} entries brought in.`),
  olderLeft: (count: number) =>
    count === 1 ? 'One was left out: yours is newer.' : `${count} were left out: yours are newer.`,
  replaced: (count: number) =>
    count === 1 ? 'One of them replaced an older one of yours.' : `${count} of them replaced older ones of yours.`,
  importUndone: 'All is as it was before the file.',
  leftOut: (count: number) =>
    count === 1
      ? 'One entry of the file is damaged and was left out:'
      : `${count} entries of the file are damaged and were left out:`,
  leftOutOne: (kind: string, label: string) => `${kind} “${label}”`,
  leftOutMore: (count: number) => `and ${count} more`,
  wrongAt: (path: string) => `“${path}” is missing or wrong`,
  damaged: (count: number) =>
    count === 1
      ? 'One entry is damaged and cannot be shown. It is left as it is.'
      : `${count} entries are damaged and cannot be shown. They are left as they are.`,
  importProblems: {
    'not-json': 'This is not a Roundwise file: it cannot be read as JSON.',
    'not-ours': 'This is not a Roundwise file.',
    newer: 'This file comes from a newer Roundwise. Load the page again to get it, then bring the file in.',
    invalid: (path: string) => `This file is damaged: “${path}” is missing or wrong. Nothing was changed.`,
  },
  lasting: 'The browser promised not to clear these when space runs short.',
  notLasting: 'The browser may clear these when space runs short. Save everything to a file now and then.',
  trouble: {
    blocked:
      'This browser keeps nothing for this page (private window?). You can work, but save your plan before you leave.',
    full: 'The device is full: the last change was not kept. Delete something, or save everything to a file.',
    'newer-version': 'What is kept was closed, perhaps by a newer Roundwise in another tab. Load this page again.',
    broken: 'The last change could not be kept. Save everything to a file, then load the page again.',
    emptied:
      'The browser found its storage damaged and emptied it: nothing kept is left. Bring in the file you saved last.',
    'job-damaged': 'The job you were on is damaged and could not be opened again. What you kept is still there.',
  },
};
