/** What a maker has on the hook: tops of stitches and chain spaces, in order. */
type Place = 'st' | 'ch-sp';

export interface ReadRound {
  readonly label: string;
  readonly stitches: number;
  readonly spaces: number;
  readonly statedStitches: number;
  readonly statedSpaces: number;
}

export type Tongue = 'english' | 'german';

/**
 * Follows a printed pattern as a maker would, from its words alone: knows no plan data, only what the sentences say.
 * Throws where the words cannot be followed.
 */
export function followPrintedPlan(lines: readonly string[], tongue: Tongue): ReadRound[] {
  const { label, readings } = TONGUES[tongue];
  const rounds: ReadRound[] = [];
  let places: readonly Place[] = [];
  let closedInto: Place | null = null;
  for (const line of lines) {
    const match = label.exec(line);
    if (!match) continue;
    const [, from, to, rest] = match;
    const { work, stated } = splitCount(rest);
    for (let each = Number(from); each <= Number(to ?? from); each++) {
      if (each !== rounds.length + 1) throw new Error(`round ${each} follows round ${rounds.length}`);
      const reader = new Reader(places, closedInto, readings);
      reader.follow(work);
      places = reader.finish(line);
      closedInto = reader.closedInto;
      rounds.push({
        label: line.slice(0, line.indexOf(':')),
        stitches: places.filter((place) => place === 'st').length,
        spaces: places.filter((place) => place === 'ch-sp').length,
        statedStitches: Number(/^(\d+) /.exec(stated)?.[1]),
        statedSpaces: Number(/, (\d+) (?:ch-|Lm-B)/.exec(stated)?.[1] ?? 0),
      });
    }
  }
  return rounds;
}

class Reader {
  private taken = 0;
  private startTold = false;
  private readonly made: Place[] = [];
  closedInto: Place | null = null;

  constructor(
    private readonly before: readonly Place[],
    /** What the last slip stitch of the round before went into: "next" alone then leaves open where the first stitch goes. */
    private readonly slippedInto: Place | null,
    private readonly readings: readonly Reading[],
  ) {}

  follow(words: string): void {
    for (const phrase of phrasesOf(words)) this.phrase(phrase);
  }

  finish(line: string): readonly Place[] {
    const left = this.before.slice(this.taken);
    if (left.includes('ch-sp') || (left.length > 0 && !this.before.includes('ch-sp'))) {
      throw new Error(`${left.length} of ${this.before.length} places are left unworked by: ${line}`);
    }
    return this.made;
  }

  private phrase(phrase: string): void {
    const repeat = /^\((.*)\) (\d+)(?: times|×)$/.exec(phrase);
    if (repeat) {
      for (let each = 0; each < Number(repeat[2]); each++) this.follow(repeat[1]);
      return;
    }
    const reading = this.readings.find(([pattern]) => pattern.test(phrase));
    if (!reading) throw new Error(`cannot follow "${phrase}"`);
    const numbers = [...phrase.matchAll(/(?<![\wäöü-])\d+/g)].map((match) => Number(match[0]));
    reading[1](this, numbers, phrase);
  }

  /** Says that the next place taken is the one slipped into. */
  startInJoin(place: Place = 'st'): void {
    if (this.slippedInto !== place || this.taken > 0) throw new Error('there is no join to start in');
    this.startTold = true;
  }

  take(place: Place, count: number): void {
    for (let each = 0; each < count; each++) {
      if (this.taken === 0 && this.slippedInto !== null && !this.startTold)
        throw new Error('where does the first stitch go?');
      if (place === 'ch-sp') while (this.before[this.taken] === 'st') this.taken++;
      if (this.before[this.taken] !== place) throw new Error(`no ${place} left at place ${this.taken + 1}`);
      this.taken++;
    }
  }

  make(place: Place, count: number): void {
    for (let each = 0; each < count; each++) this.made.push(place);
  }

  /** The next place to be worked must be this one. */
  expectNext(place: Place): void {
    // A spiral goes on into its own first place.
    const [next] = this.made;
    if (next !== place) throw new Error(`slips into a ${place}, but the next round starts at a ${next}`);
  }

  close(into: Place): void {
    this.closedInto = into;
  }

  get mayStartInJoin(): boolean {
    return this.slippedInto === 'st' && this.taken === 0;
  }

  get left(): number {
    return this.before.length - this.taken;
  }

  get inRing(): boolean {
    return this.before.length === 0;
  }
}

/** A phrase and what it does; numbers are those in the phrase that stand alone, in order. */
type Reading = readonly [RegExp, (reader: Reader, numbers: readonly number[], phrase: string) => void];

const nothing = () => undefined;
const slipIntoSpace: Reading[1] = (reader) => {
  reader.expectNext('ch-sp');
  reader.close('ch-sp');
};
const plain: Reading[1] = (reader, [count = 1]) => {
  reader.take('st', count);
  reader.make('st', count);
};
const everyStitch: Reading[1] = (reader) => plain(reader, [reader.left], '');
/** A beginning chain that counts stands for the first stitch, on the stitch of the join. */
const countingChain: Reading[1] = (reader) => {
  if (!reader.inRing) {
    reader.startInJoin();
    reader.take('st', 1);
  }
  reader.make('st', 1);
};

const ENGLISH: readonly Reading[] = [
  [/^make an adjustable ring$/i, nothing],
  [/^pull ring closed$/i, nothing],
  [/^join with (sl st|ss) in (first \w+|top of beg ch-\d)$/i, (reader) => reader.close('st')],
  [/^(sl st|ss) in next st to level$/i, nothing],
  [/^(sl st|ss) in next ch-sp to close the spiral$/i, slipIntoSpace],
  [/^starting in same ch-sp as (sl st|ss)$/i, (reader) => reader.startInJoin('ch-sp')],
  [/^ch \d+ \(does not count as st\)$/i, nothing],
  [/^ch \d+ \(counts as \w+\)$/i, countingChain],
  [/^starting in same st as join$/i, (reader) => reader.startInJoin()],
  [/^counting the st of the join as the first$/i, (reader) => reader.startInJoin()],
  [/^\d+ \w+ in ring$/i, (reader, [count]) => reader.make('st', count)],
  [/^(\d+ )?\w+ in same (st|ch-sp)$/i, (reader, [count = 1]) => reader.make('st', count)],
  [
    /^(\d+ )?\w+ in same st as join$/i,
    (reader, [count = 1]) => {
      reader.startInJoin();
      reader.take('st', 1);
      reader.make('st', count);
    },
  ],
  [/^ch \d+$/i, (reader) => reader.make('ch-sp', 1)],
  [
    /^ch-\d+ \w+ V in same st as join$/i,
    (reader) => {
      reader.startInJoin();
      vStitch(reader, 'st');
    },
  ],
  [/^ch-\d+ \w+ V in next st$/i, (reader) => vStitch(reader, 'st')],
  [/^ch-\d+ \w+ V in next ch-sp$/i, (reader) => vStitch(reader, 'ch-sp')],
  [/^ch-\d+ \w+ V in same ch-sp$/i, (reader) => vStitch(reader, null)],
  [/^(sk|miss) \d+ sts?$/i, (reader, [count]) => reader.take('st', count)],
  [/^(sk|miss) ch-sp$/i, (reader) => reader.take('ch-sp', 1)],
  [/^inc in each st around$/i, (reader) => increase(reader, reader.left)],
  [/^inc in each of next \d+ sts$/i, (reader, [count]) => increase(reader, count)],
  [/^inc$/i, (reader) => increase(reader, 1)],
  [/^\w+2tog$/i, (reader) => together(reader)],
  [/^\w+ in each st around$/i, everyStitch],
  [/^\w+ in next \d+ sts$/i, plain],
  [/^\w+ in next st$/i, plain],
  [/^\w+ in each of next \d+ ch-sps$/i, (reader, [count]) => inSpaces(reader, count, 1)],
  [/^(\d+ )?\w+ in next ch-sp$/i, (reader, [count = 1]) => inSpaces(reader, 1, count)],
];

const M = '(?:fM|hStb|Stb|DStb)';
const GERMAN: readonly Reading[] = [
  [/^Fadenring$/i, nothing],
  [/^Ring zuziehen$/, nothing],
  [new RegExp(`^1 Km in (?:die \\d\\. Anfangs-Lm|(?:die|das) erste ${M})$`), (reader) => reader.close('st')],
  [/^mit 1 Km in die nächste M schließen$/, nothing],
  [/^mit 1 Km um den nächsten Lm-Bogen schließen$/, slipIntoSpace],
  [/^im Lm-Bogen der Km beginnen$/i, (reader) => reader.startInJoin('ch-sp')],
  [/^\d+ Lm \(zähl(?:t|en) nicht als M\)$/, nothing],
  [/^\d+ Lm \(zählen als 1 \w+\)$/, countingChain],
  [/^in der M der Km beginnen$/i, (reader) => reader.startInJoin()],
  [/^die M der Km als erste zählen$/i, (reader) => reader.startInJoin()],
  [new RegExp(`^\\d+ ${M} in den Ring$`), (reader, [count]) => reader.make('st', count)],
  [
    new RegExp(`^\\d+ ${M} in dieselbe M$`),
    (reader, [count]) => {
      if (reader.mayStartInJoin) {
        reader.startInJoin();
        reader.take('st', 1);
      }
      reader.make('st', count);
    },
  ],
  [new RegExp(`^\\d+ ${M} um denselben Lm-Bogen$`), (reader, [count]) => reader.make('st', count)],
  [/^\d+ Lm$/, (reader) => reader.make('ch-sp', 1)],
  [
    new RegExp(`^1 ${M}-V mit \\d+ Lm in dieselbe M$`),
    (reader) => {
      reader.startInJoin();
      vStitch(reader, 'st');
    },
  ],
  [new RegExp(`^1 ${M}-V mit \\d+ Lm$`), (reader) => vStitch(reader, 'st')],
  [new RegExp(`^1 ${M}-V mit \\d+ Lm um den nächsten Bogen$`), (reader) => vStitch(reader, 'ch-sp')],
  [new RegExp(`^1 ${M}-V mit \\d+ Lm um denselben Bogen$`), (reader) => vStitch(reader, null)],
  [/^\d+ M übergehen$/, (reader, [count]) => reader.take('st', count)],
  [/^1 Lm-Bogen übergehen$/, (reader) => reader.take('ch-sp', 1)],
  [/^Jede M verd$/i, (reader) => increase(reader, reader.left)],
  [/^die nächsten \d+ M verd$/i, (reader, [count]) => increase(reader, count)],
  [/^1 M verd$/, (reader) => increase(reader, 1)],
  [new RegExp(`^2 ${M} zus\\. abmaschen$`), (reader) => together(reader)],
  [new RegExp(`^je 1 ${M} in jede M$`, 'i'), everyStitch],
  [new RegExp(`^je 1 ${M} um die nächsten \\d+ Lm-Bögen$`), (reader, [, count]) => inSpaces(reader, count, 1)],
  [new RegExp(`^\\d+ ${M} um den nächsten Lm-Bogen$`), (reader, [count]) => inSpaces(reader, 1, count)],
  [new RegExp(`^\\d+ ${M}$`), plain],
];

const TONGUES: Readonly<Record<Tongue, { readonly label: RegExp; readonly readings: readonly Reading[] }>> = {
  english: { label: /^Rnds? (\d+)(?:–(\d+))?: (.*)$/, readings: ENGLISH },
  german: { label: /^(\d+)\.(?:–(\d+)\.)? Rd: (.*)$/, readings: GERMAN },
};

/** Two stitches in one place with a chain space between; null for the place taken last. */
function vStitch(reader: Reader, place: Place | null): void {
  if (place) reader.take(place, 1);
  reader.make('st', 1);
  reader.make('ch-sp', 1);
  reader.make('st', 1);
}

function increase(reader: Reader, count: number): void {
  reader.take('st', count);
  reader.make('st', 2 * count);
}

function together(reader: Reader): void {
  reader.take('st', 2);
  reader.make('st', 1);
}

function inSpaces(reader: Reader, spaces: number, each: number): void {
  reader.take('ch-sp', spaces);
  reader.make('st', spaces * each);
}

/** The count is what stands in the last bracket before the full stop that ends the instruction. */
function splitCount(rest: string): { work: string; stated: string } {
  const match = /^(.*?) \((\d+ [^()]*)\)\./.exec(rest);
  if (!match) throw new Error(`no count at the end of: ${rest}`);
  return { work: match[1], stated: match[2] };
}

/** Splits at commas outside brackets. */
function phrasesOf(words: string): string[] {
  const phrases: string[] = [];
  let depth = 0;
  let phrase = '';
  for (const character of words) {
    if (character === '(') depth++;
    if (character === ')') depth--;
    if (depth > 1) throw new Error(`brackets inside brackets: ${words}`);
    if (character === ',' && depth === 0) {
      phrases.push(phrase.trim());
      phrase = '';
    } else {
      phrase += character;
    }
  }
  return [...phrases, phrase.trim()];
}
