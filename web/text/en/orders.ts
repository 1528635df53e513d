/** Customers: whose container it is, what was agreed, and the answer to them. */
export const orders = {
  title: 'Orders',
  empty: 'No orders yet. Send a customer the guide; her photo becomes an order as soon as it has her name.',
  toGuide: 'The guide for customers',
  open: 'Open',
  openOf: (customer: string) => `Open: ${customer}`,
  noName: 'No name',
  sizes: (around: string, height: string) => `${around} around, ${height} high`,
  dueOn: (day: string) => `Due ${day}`,
  overdue: (day: string) => `Was due ${day}`,
  noDay: 'No day agreed',
  plan: {
    none: 'Not begun',
    begun: (rounds: number) => (rounds === 1 ? '1 round done' : `${rounds} rounds done`),
    ready: 'Planned',
  },
  paid: 'Paid',
  done: 'Handed over',
  doneOnes: 'Handed over earlier',
  fold: 'For a customer',
  customer: 'Customer’s name',
  customerHint: 'With a name it is an order. Leave it empty for a container of your own.',
  due: 'To be ready on',
  price: 'Price agreed',
  known: (customer: string) => `${customer} has an order already. Is this another photo of the same container?`,
  join: 'The same: put them together',
  waiting: (count: number) =>
    count === 1
      ? 'Another photo came with it. Is it the same container?'
      : `${count} more photos came with it. Is it the same container?`,
  joinWaiting: 'The same: put them together',
  openWaiting: 'No, look at the next one',
  copyNote: {
    screenshot:
      'This looks like a screenshot. It is smaller than the photo and does not say which lens took it, so the sizes are less sure.',
    copy: 'This is a copy: messengers and picture editors take out which lens took it. The sizes are a little less sure.',
  },
  askForPhoto: {
    screenshot:
      'Thank you! Could you send me the photo itself instead of the screenshot, as a file if you can? Then I can size it properly.',
    copy: 'Thank you! If you can, please send me the same photo once more as a file or document: then I can size it more exactly.',
  },
  copyAsk: 'Copy a text that asks for the photo itself',
  copied: 'Copied. Paste it into your message.',
  notCopied: 'It could not be copied. Mark the text and copy it by hand.',
  reply: {
    title: 'The answer to her',
    language: 'In her language',
    text: 'Text to paste',
    copy: 'Copy the text',
    picture: 'Send it with the picture',
    noPicture: 'The picture cannot be made here.',
    hello: (customer: string) => (customer ? `Hello ${customer},` : 'Hello,'),
    sizes: (around: string, height: string) =>
      `thank you for the photo. It shows that your container is about ${around} around and ${height} high.`,
    unsure: (from: string, to: string) =>
      `The photo leaves it open between ${from} and ${to}: could you lay a tape around its widest place once?`,
    offer: (what: string) => `I can make this for it: ${what}.`,
    price: (price: string) => `It costs ${price}.`,
    due: (day: string) => `It can be ready on ${day}.`,
    ask: 'Shall I begin?',
    fileName: 'carrier',
  },
};
