export const keep = {
  title: 'Kept on this device',
  search: 'Search by label',
  nothing: 'Nothing kept yet.',
  nothingFound: 'Nothing with that label.',
  kinds: { container: 'Containers', gauge: 'Gauges', plan: 'Plans', carrier: 'Finished carriers' },
  unnamed: 'Without a label',
  open: 'Open',
  remove: 'Delete',
  removeAsk: (label: string) => `Delete “${label}”?`,
  removeYes: 'Delete it',
  removeNo: 'Keep it',
  removed: (label: string) => `“${label}” is deleted.`,
  foldContainer: 'Name it, keep it',
  foldPlan: 'Name this plan, keep it',
  keepThis: 'Keep this container',
  keepAgain: 'Keep the changes',
  keepPlan: 'Keep this plan',
  keptNow: 'Kept on this device.',
  labelField: 'Label',
  labelHint: 'For example whose bottle it is',
  exportAll: 'Save everything to a file',
  exportHint: 'One file with all containers, gauges, plans and finished carriers. Cards are covered in its pictures.',
  importFile: 'Bring in a file',
  imported: (count: number) => (count === 1 ? 'One entry brought in.' : `${count} entries brought in.`),
  olderLeft: (count: number) =>
    count === 1 ? 'One was left out: yours is newer.' : `${count} were left out: yours are newer.`,
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
