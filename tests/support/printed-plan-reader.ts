/** What a maker has on the hook: tops of stitches and chain spaces, in order. */
type Place = 'st' | 'ch-sp';

export interface ReadRound {
  readonly label: string;
  readonly places: readonly Place[];
  readonly statedStitches: number;
  readonly statedSpaces: number;
}

/**
 * Follows a printed plan as a maker would, from its words alone: knows no plan data, only what the sentences say.
 * Throws where the words cannot be followed.
 */
export function followPrintedPlan(text: string): ReadRound[] {
  const rounds: ReadRound[] = [];
  let places: readonly Place[] = [];
  for (const { label, words } of printedRounds(text)) {
    const [work, counts] = words.split(' — ');
    const times = label.includes('-') ? roundsIn(label) : 1;
    for (let each = 0; each < times; each++) {
      const reader = new Reader(places);
      reader.follow(work);
      places = reader.finish(label);
      rounds.push({
        label,
        places,
        statedStitches: Number(/^(\d+) sts/.exec(counts)?.[1]),
        statedSpaces: Number(/(\d+) ch-sps/.exec(counts)?.[1] ?? 0),
      });
    }
  }
  return rounds;
}

class Reader {
  private taken = 0;
  private readonly made: Place[] = [];

  constructor(private readonly before: readonly Place[]) {}

  follow(words: string): void {
    for (const phrase of phrasesOf(words)) this.phrase(phrase);
  }

  finish(label: string): readonly Place[] {
    const left = this.before.slice(this.taken);
    if (left.includes('ch-sp') || (left.length > 0 && !this.before.includes('ch-sp'))) {
      throw new Error(`${label} leaves ${left.length} of ${this.before.length} places unworked`);
    }
    return this.made;
  }

  private phrase(phrase: string): void {
    const repeat = /^[([](.*)[)\]] (\d+) times$/.exec(phrase);
    if (repeat) {
      for (let each = 0; each < Number(repeat[2]); each++) this.follow(repeat[1]);
      return;
    }
    const read = READINGS.find(([pattern]) => pattern.test(phrase));
    if (!read) throw new Error(`cannot follow "${phrase}"`);
    const numbers = [...phrase.matchAll(/\b\d+\b/g)].map((match) => Number(match[0]));
    read[1](this, numbers);
  }

  take(place: Place, count: number): void {
    for (let each = 0; each < count; each++) {
      if (place === 'ch-sp') while (this.before[this.taken] === 'st') this.taken++;
      if (this.before[this.taken] !== place) throw new Error(`no ${place} left at place ${this.taken + 1}`);
      this.taken++;
    }
  }

  make(place: Place, count: number): void {
    for (let each = 0; each < count; each++) this.made.push(place);
  }

  get left(): number {
    return this.before.length - this.taken;
  }

  get startsInRing(): boolean {
    return this.before.length === 0;
  }
}

/** A phrase and what it does; numbers are those in the phrase, in order. */
const READINGS: readonly (readonly [RegExp, (reader: Reader, numbers: readonly number[]) => void])[] = [
  [/^make an adjustable ring$/i, () => undefined],
  [/^(sl st|ss) in (first st|next st to level)$/i, () => undefined],
  [/^ch \d+ \(does not count\)$/i, () => undefined],
  [
    /^ch \d+ \(counts as \w+\)$/i,
    (reader) => {
      if (!reader.startsInRing) reader.take('st', 1);
      reader.make('st', 1);
    },
  ],
  [/^\d+ \w+ in the ring$/i, (reader, [count]) => reader.make('st', count)],
  [/^\w+ in same place$/i, (reader) => reader.make('st', 1)],
  [/^ch \d+$/i, (reader) => reader.make('ch-sp', 1)],
  [/^(skip|miss) \d+ sts?$/i, (reader, [count]) => reader.take('st', count)],
  [/^(skip|miss) ch-sp$/i, (reader) => reader.take('ch-sp', 1)],
  [
    /^\w+ in each st around$/i,
    (reader) => {
      const count = reader.left;
      reader.take('st', count);
      reader.make('st', count);
    },
  ],
  [
    /^\d+ \w+ in each of next \d+ sts$/i,
    (reader, [made, count]) => {
      reader.take('st', count);
      reader.make('st', made * count);
    },
  ],
  [
    /^\w+ in each of next \d+ ch-sps$/i,
    (reader, [count]) => {
      reader.take('ch-sp', count);
      reader.make('st', count);
    },
  ],
  [
    /^\w+ in next \d+ sts$/i,
    (reader, [count]) => {
      reader.take('st', count);
      reader.make('st', count);
    },
  ],
  [
    /^\d+ \w+ in next st$/i,
    (reader, [made]) => {
      reader.take('st', 1);
      reader.make('st', made);
    },
  ],
  [
    /^\d+ \w+ in next ch-sp$/i,
    (reader, [made]) => {
      reader.take('ch-sp', 1);
      reader.make('st', made);
    },
  ],
  [
    /^[a-z]+2tog$/i,
    (reader) => {
      reader.take('st', 2);
      reader.make('st', 1);
    },
  ],
  [
    /^[a-z]+ in next st$/i,
    (reader) => {
      reader.take('st', 1);
      reader.make('st', 1);
    },
  ],
  [
    /^[a-z]+ in next ch-sp$/i,
    (reader) => {
      reader.take('ch-sp', 1);
      reader.make('st', 1);
    },
  ],
];

function printedRounds(text: string): { label: string; words: string }[] {
  const joined = text.replace(/\n {2,}/g, ' ');
  return [...joined.matchAll(/^Rnds? ([\d-]+) +(.*? — \d+ sts(?:, \d+ ch-sps)?)\./gm)].map(([, label, words]) => ({
    label,
    words,
  }));
}

function roundsIn(label: string): number {
  const [from, to] = label.split('-').map(Number);
  return to - from + 1;
}

/** Splits at commas outside brackets. */
function phrasesOf(words: string): string[] {
  const phrases: string[] = [];
  let depth = 0;
  let phrase = '';
  for (const character of words) {
    if ('(['.includes(character)) depth++;
    if (')]'.includes(character)) depth--;
    if (character === ',' && depth === 0) {
      phrases.push(phrase.trim());
      phrase = '';
    } else {
      phrase += character;
    }
  }
  return [...phrases, phrase.trim()];
}
