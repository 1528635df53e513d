import names, { coinSamples, workSamples } from 'virtual:samples';

/** A photo that comes with Roundwise: what lies beside the container unless a card, address of it and of a small picture. */
interface Sample {
  readonly name: string;
  readonly reference?: string;
  readonly url: string;
  readonly thumbnailUrl: string;
}

export const SAMPLES: readonly Sample[] = [
  ...names.map((name) => ({ name, url: `./samples/${name}.jpg`, thumbnailUrl: `./samples/${name}.webp` })),
  ...coinSamples.map((sample) => ({
    ...sample,
    url: `./samples/coin/${sample.name}.jpg`,
    thumbnailUrl: `./samples/coin/${sample.name}.webp`,
  })),
];

/** Photos of flat work, with what was counted on it. */
export const WORK_SAMPLES = workSamples.map((sample) => ({
  ...sample,
  url: `./samples/work/${sample.name}.jpg`,
  thumbnailUrl: `./samples/work/${sample.name}.webp`,
}));
