export const ruler = {
  /** Printed on the sheet itself. */
  sheet: {
    title: 'Printed card frame',
    purpose: 'Use this page instead of a bank card when you photograph a container or your work.',
    frame: 'Lay the whole sheet flat; this dark frame takes the place of the card.',
    line: 'Check line: it should be 150 mm long.',
    stepPrint: 'Print at 100 %, without “fit to page”.',
    stepCheck: 'Measure the check line with a ruler or anything of known length.',
    stepEnter: 'Tell the app what you read, even if it is 150 mm: printers rescale.',
    stepLay: 'Lay the sheet flat on the table, next to what you measure, and take the photo.',
  },
  title: 'No card at hand? Print a frame',
  lead: 'The sheet shows a dark frame the size of a bank card. Printers rescale, so one length on it must be measured.',
  paper: 'Paper',
  papers: { A4: 'A4', Letter: 'US Letter' },
  preview: 'The sheet: a dark frame the size of a bank card above a check line with marks.',
  print: 'Print the sheet',
  checkTitle: 'After printing',
  checkLead:
    'Measure the check line from its first to its last mark, with a ruler, a tape, or anything you know the length of.',
  checked: 'The check line is long',
  corrected: (width: string, height: string) => `So your frame is ${width} × ${height}.`,
  impossible: 'No printer changes the size that much. Measure from the first to the last mark.',
  use: 'Use this frame from now on',
  inUse: (length: string) => `In use: the frame with a check line of ${length}. New photos are measured with it.`,
  useCard: 'Use a bank card again',
};
