import names, { workSamples } from 'virtual:samples';

/** Photos that come with Roundwise: name, address of the photo and of a small picture of it. */
export const SAMPLES = names.map((name) => ({
  name,
  url: `./samples/${name}.jpg`,
  thumbnailUrl: `./samples/${name}.webp`,
}));

/** Photos of flat work, with what was counted on it. */
export const WORK_SAMPLES = workSamples.map((sample) => ({
  ...sample,
  url: `./samples/work/${sample.name}.jpg`,
  thumbnailUrl: `./samples/work/${sample.name}.webp`,
}));
