export const reference = {
  own: 'Another rectangle',
  ownSize: (size: string) => `Rectangle ${size}`,
  printed: (length: string) => `Printed frame, check line ${length}`,
  long: 'Long side',
  short: 'Short side',
  thickness: 'Thickness',
  thicknessHint: 'Height of its upper side above the table',
  tolerance: (percent: string) => `Its own size is known to ± ${percent}; the ± of every size includes that.`,
  coarse: 'A bank card or a printed frame is surer.',
  toRuler: 'No card at hand? Print a frame',
};
