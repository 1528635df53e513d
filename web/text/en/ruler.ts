/** Words on the printable ruler page. */
export const ruler = {
  title: 'Printed card frame',
  purpose: 'Use this page instead of a bank card when you photograph a container or your work.',
  frame: 'Lay the whole sheet flat; this dark frame takes the place of the card.',
  line: 'Check line: it should be 150 mm long.',
  stepPrint: 'Print at 100 %, without “fit to page”.',
  stepCheck: 'Measure the check line with a ruler or anything of known length.',
  stepEnter: 'Tell the app what you read, even if it is 150 mm: printers rescale.',
  stepLay: 'Lay the sheet flat on the table, next to what you measure, and take the photo.',
} as const;
